package bass

import (
	"math"

	"loudfor/model/air"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// What it takes to be as loud as a level, asked of the box alone.
//
// A level at the receiver is a net volume velocity from each driver's share of
// a box. In a ported box the flow through the port follows from it, and from
// that flow the velocity of the cone and the pressure against it
// (enclosure.Load.Needs): at the level everything outside the driver is known
// before the driver is. So all this is worked out once for a box and then held
// against one driver after the other (prospect.go), at a few multiplications
// each, where putting a driver into a box and searching its loudest travel
// takes a hundred times as long. It also says at once at which frequencies no
// driver at all could do it, since the port would have to pass more than its
// limit: all those well under the tuning.
//
// Losses of a sealed chamber are stated at the resonance of cone and box, so
// that there the driver has its say.

// Aim is the net output that a level takes of one driver's share, at every
// frequency of a room.
type Aim struct {
	room     *cabin.Response
	drivers  float64
	pressure float64   // Pa rms at the receiver
	net      []float64 // peak, m3/s
}

// aimSlack, dB, is by how much an aim is lower than the level that it is for. The
// loudest travel is found to a thousandth of a cell between two points of the
// lattice (search.go), so that it can be a thousandth of itself above the last
// travel that is allowed; the level grows with the square of the travel at
// most. That is 0.017 dB.
const aimSlack = 0.02

// Take makes the aim of so many drivers, to be as loud as a level in dB.
func (a *Aim) Take(level float64, drivers int, room *cabin.Response) {
	a.room, a.drivers = room, float64(drivers)
	a.net = resize(a.net, len(room.Hz))
	a.pressure = air.Pressure(level - aimSlack)
	pressure := math.Sqrt2 * a.pressure / a.drivers
	for i, z := range room.Transfer {
		a.net[i] = pressure / math.Sqrt(square(z)) // infinite at a node
	}
}

// Target is what a box asks of its drivers to reach an aim.
type Target struct {
	kind   enclosure.Kind
	volume float64 // compliance of the chamber behind the cone, m3/Pa
	tuning float64 // Hz; 0: no port

	leakQ, absorptionQ float64 // of that chamber, where they depend on the driver

	most  float64 // volume velocity through the port, m3/s
	grows float64 // of the port's resistance with that
	steps []step  // of a ported box, by frequency
}

// step is a target at one frequency: peak volume velocities, m3/s, and the
// pressure difference on the cone for a unit of its own.
type step struct {
	at         int
	port, cone float64
	re, im     float64
}

// Near tells what boxes have to be alike in to ask for about the same: whether there
// is a port, and in the logarithms of tuning and compliance.
func (t *Target) Near() (ported bool, at [2]float64) {
	if t.kind == enclosure.Sealed {
		return false, [2]float64{0, math.Log(t.volume)}
	}
	at = [2]float64{math.Log(t.tuning), math.Log(t.volume)}
	if t.kind == enclosure.BandPass {
		at[0] += apartKinds
	}
	return true, at
}

// apartKinds keeps boxes of another kind away from each other.
const apartKinds = 10

// Set works a target out at some frequencies of the aim's room, or at all where
// at is nil. displacement is the volume that a driver takes up, m3, and must not
// be 0. The error names the number that cannot be right.
func (t *Target) Set(b enclosure.Box, displacement float64, aim *Aim, at []int32, l Limits, a air.Air) error {
	// A driver of next to no size: only displacement is of interest.
	none := driver.Driver{Size: 1e-3, Mms: 1, Cms: 1, Sd: 1e-9, Xmax: 1e-6}
	c, err := b.Circuit(none, displacement, a)
	if err != nil {
		return err
	}
	t.tuning = c.Tuning
	t.kind, t.volume, t.leakQ, t.absorptionQ = c.Kind, c.Compliance, c.LeakQ, c.AbsorptionQ
	t.steps = t.steps[:0]
	if c.Kind == enclosure.Sealed {
		return nil
	}
	if c.Kind == enclosure.BandPass {
		c.Absorption = 0 // of the rear chamber: the driver has its say
	}
	t.grows, t.most = c.PortTurbulence, math.Inf(1)
	if c.PortArea > 0 && l.PortSpeed > 0 {
		t.most = l.PortSpeed * c.PortArea
	}
	var load enclosure.Load
	n := len(aim.room.Hz)
	if at != nil {
		n = len(at)
	}
	for i := range n {
		if at != nil {
			i = int(at[i])
		}
		c.Load(2*math.Pi*aim.room.Hz[i], scale(aim.room.Back[i], aim.drivers), &load)
		port, cone, ok := load.Needs(aim.net[i], t.most)
		if !ok {
			continue
		}
		reaction, _ := load.At(port)
		t.steps = append(t.steps, step{i, port, cone, real(reaction), imag(reaction)})
	}
	return nil
}
