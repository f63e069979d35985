package bass

import (
	"math"
	"sort"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// How loud a driver can get in ANY box, without preparing one: the bound with
// which a search leaves out most boxes unseen.
//
// Three facts hold whatever the box is, because box and cabin are passive.
//
//  1. The current in phase with the velocity is at least what the driver's own
//     losses take: i >= u (ai + bi u)/motion, with the names of strain.go. So
//     for the coil's impedance Z = R + jX beyond the source, the source must
//     make at least the distance of j (i Z + emf u motion) from the line of
//     all multiples of Z, which the box's stiffness and mass are free to add:
//     i |Z| + emf u motion R/|Z|. This grows with u, so the open voltage bounds
//     u; hot coils only raise R and with it the distance.
//  2. What leaves a box is at most what its cone and its port move together.
//     With p the pressure in the chamber of admittance Yb, leak and net flow
//     together are Yb p (1 + G (1/Yb + Zc)), whose last factor is not below 1
//     in a passive cabin; so the net flow alone is no more than cone less
//     port. In a sealed box it is no more than the cone's.
//  3. The flow through a port is at most the speed limit times its area. All
//     that leaves a band-pass box is that and its leak, G Zp times as much.
//
// The bound is loose where a box's resonance is far from where the car is
// loud, and for ports, whose flow and the cone's hardly ever are greatest at
// once; by 2 to 4 dB for a box that suits its driver.

// Horizon bounds one driver in every box, at the frequencies of a room.
type Horizon struct {
	room     *cabin.Response
	hz       []float64
	w        []float64 // rad/s
	transfer []float64 // of the room, Pa rms for a peak of 1 m3/s
	zr, zx   []float64 // of the coil beyond Re
	travel   []float64 // of the cone, Xmax: none goes further
	cone     []float64 // Pa rms at the receiver from the cones alone
	flow     []float64 // Pa rms for 1 m3/s peak from each driver's share of the port
}

// Mouth is what a box lets out besides its cones.
type Mouth struct {
	Port  float64 // most peak volume velocity of one driver's share of port and leak, m3/s
	Cones bool    // the cones face the car
}

// MouthOf is the mouth of a box, with any driver in it. highest is the highest
// frequency of interest, Hz.
func MouthOf(b enclosure.Box, l Limits, a air.Air, highest float64) (Mouth, error) {
	if b.Kind == enclosure.Sealed {
		return Mouth{Cones: true}, nil
	}
	// A driver of next to no size: what it takes from the chamber could only
	// make an assumed port smaller.
	none := driver.Driver{Size: 1e-3, Mms: 1, Cms: 1, Sd: 1e-9, Xmax: 1e-6}
	c, err := b.Circuit(none, 1e-12, a)
	if err != nil {
		return Mouth{}, err
	}
	m := Mouth{Port: math.MaxFloat64, Cones: b.Kind == enclosure.Vented}
	if l.PortSpeed > 0 {
		m.Port = l.PortSpeed * c.PortArea
	}
	if b.Kind == enclosure.BandPass {
		w := 2 * math.Pi * highest
		m.Port *= math.Hypot(1+c.Leak*(c.PortDrag+c.PortTurbulence*m.Port), c.Leak*w*c.PortMass)
	}
	return m, nil
}

// Look fills h in for so many drivers, each coil fed from a source, in a room,
// which must not change as long as h is used. feedVolts is the supply at the
// amplifier without a load.
func (h *Horizon) Look(d *driver.Driver, drivers int, source amplifier.Source, feedVolts float64, l Limits, room *cabin.Response) {
	if h.room != room || len(h.hz) != len(room.Hz) {
		h.enter(room)
	}
	overdrive := min(max(0, l.Overdrive), MostOverdrive)
	open := math.Sqrt2 * source.OpenVoltage * max(1, feedVolts/amplifier.RatedSupply)
	losses := d.Xmax / (float64(d.Coils) * d.Bl) * d.Rms
	motor := d.Bl * d.Xmax
	share, cone := float64(drivers), float64(drivers)*d.Sd*d.Xmax
	direct := d.Re + max(0, source.Resistance)
	for i, w := range h.w {
		zr, zx := inductance(d, w)
		h.zr[i], h.zx[i] = zr, zx
		r := direct + zr
		z := math.Sqrt(r*r + zx*zx)
		lost, made := losses*w*z, motor*w*r/z
		// The motor gives way with travel. As u cannot be above the last
		// value, motion is not below its value there.
		u := overdrive
		for range horizonRounds {
			next := open / (lost + made*(1-motionSquare*u*u))
			if !(next < u) {
				break
			}
			u = next
		}
		h.travel[i] = u
		h.flow[i] = h.transfer[i] * share * overshoot
		h.cone[i] = h.transfer[i] * cone * w * u * overshoot
	}
}

// enter prepares h for a room.
func (h *Horizon) enter(room *cabin.Response) {
	n := len(room.Hz)
	h.room, h.hz = room, room.Hz
	for _, s := range []*[]float64{&h.w, &h.transfer, &h.zr, &h.zx, &h.travel, &h.cone, &h.flow} {
		*s = resize(*s, n)
	}
	for i, f := range room.Hz {
		h.w[i], h.transfer[i] = 2*math.Pi*f, math.Sqrt(square(room.Transfer[i])/2)
	}
}

// overshoot is by how much the loudest travel can be beyond a limit, and with it what
// moves: it is found on a line through the strain (search.go), whose error is below a
// millionth of the travel. A port's flow bends, so that the line reaches its limit a
// little later than the flow does: 4e-8 were seen, 3.7e-7 dB.
const overshoot = 1 + 1e-6

// horizonRounds of a contraction that has settled after two or three.
const horizonRounds = 3

// Loudest bounds Loudest, dB, of every box with a mouth.
func (h *Horizon) Loudest(m Mouth) float64 {
	most := 0.0
	for i := range h.hz {
		most = max(most, h.at(i, m))
	}
	return air.Level(max(leastPressure, most))
}

// Bands bounds Bands, dB, of every box with a mouth.
func (h *Horizon) Bands(m Mouth) float64 {
	level := func(i int) float64 { return air.Level(max(leastPressure, h.at(i, m))) }
	sum := 0.0
	for _, centre := range bandCentres {
		i := sort.SearchFloat64s(h.hz, centre)
		switch {
		case i == 0:
			sum += level(0)
		case i == len(h.hz):
			sum += level(i - 1)
		default:
			t := (centre - h.hz[i-1]) / (h.hz[i] - h.hz[i-1])
			sum += (1-t)*level(i-1) + t*level(i)
		}
	}
	return sum / float64(len(bandCentres))
}

// Narrowest is the mouth's least Port with which a box could be louder than a
// level in dB: at every frequency, with less, Loudest is below. cones tells
// whether the cones face the car.
func (h *Horizon) Narrowest(level float64, cones bool) float64 {
	pressure, least := air.Pressure(level), math.Inf(1)
	for i, flow := range h.flow {
		short := pressure
		if cones {
			short -= h.cone[i]
		}
		if short <= 0 {
			return 0
		}
		if short < least*flow {
			least = short / flow
		}
	}
	return least
}

// Above gathers into to the frequencies of a room at which a box with a mouth
// could be louder than a level in dB. The others can be left out of a Prepare
// whose answer shall only be whether Loudest is above that level.
func (h *Horizon) Above(level float64, m Mouth, room, to *cabin.Response) {
	to.Hz, to.Transfer, to.Back = to.Hz[:0], to.Transfer[:0], to.Back[:0]
	least := air.Pressure(level)
	for i := range h.hz {
		if h.at(i, m) > least {
			to.Hz = append(to.Hz, room.Hz[i])
			to.Transfer = append(to.Transfer, room.Transfer[i])
			to.Back = append(to.Back, room.Back[i])
		}
	}
}

// BandsOnly gathers into to the frequencies of a room on which Bands depends:
// with them alone it is the same.
func BandsOnly(room, to *cabin.Response) {
	to.Hz, to.Transfer, to.Back = to.Hz[:0], to.Transfer[:0], to.Back[:0]
	last := -1
	for _, centre := range bandCentres {
		i := sort.SearchFloat64s(room.Hz, centre)
		for j := max(last+1, i-1); j <= min(i, len(room.Hz)-1); j++ {
			to.Hz = append(to.Hz, room.Hz[j])
			to.Transfer = append(to.Transfer, room.Transfer[j])
			to.Back = append(to.Back, room.Back[j])
			last = j
		}
	}
}

// Near gathers into to the frequencies at which a box with a mouth could reach
// an aim.
func (h *Horizon) Near(aim *Aim, m Mouth, to []int32) []int32 {
	to = to[:0]
	for i := range h.hz {
		if h.at(i, m) >= aim.pressure {
			to = append(to, int32(i))
		}
	}
	return to
}

func (h *Horizon) at(i int, m Mouth) float64 {
	pressure := h.flow[i] * m.Port
	if m.Cones {
		pressure += h.cone[i]
	}
	return min(pressure, math.MaxFloat64)
}
