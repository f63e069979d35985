package bass

import (
	"math"
	"sync/atomic"

	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Prepared is a driver in its box in a car, ready for any amplifier.
type Prepared struct {
	driver  driver.Driver
	circuit enclosure.Circuit
	drivers float64 // altogether
	coils   float64 // altogether
	hz      []float64
	back    []complex128
	points  []point
	loads   []enclosure.Load // of ported boxes, else empty
	seed    int              // the point where a volt makes the most sound

	// What was learnt while answering; see rungs.go.
	moves  []held
	learnt []learnt
	best   atomic.Int32 // the last loudest point: where the search begins

	stiffening float64 // growth of the in-phase current with u^2, A per u^3 at small travel
	heatTime   float64 // s, of a driver of heatSize and heatMore
	heatSize   float64 // m
	heatMore   float64
	burstShare float64 // of the usual burst's heat
}

// point is one frequency: all constants of the functions of u in strain.go.
// Forces are divided by the coils' total force factor at rest, so that they are
// coil currents; peak values throughout.
type point struct {
	ar, ai, bi float64 // current for u: u (ar + stiffening u^2), u (ai + bi u); of a ported box without its air
	zr, zx     float64 // blocked coil beyond Re, ohm
	emf        float64 // w Bl Xmax
	output     float64 // square of the rms pressure for u = 1; of a ported box for a net output of 1
	cone       float64 // volume velocity of the cone for u = 1
	air        float64 // current for u = 1 and a reaction of 1 Pa s/m3
	first      float64 // square of the rms pressure for u = 1 at vanishing level
	need       float64 // u for 1 Pa rms at vanishing level
}

// Prepare computes everything about a setup in a room that does not depend on
// the amplifier. room.Hz are the frequencies of all results. The error names
// the number that cannot be right.
func Prepare(s Setup, room *cabin.Response) (*Prepared, error) {
	p := new(Prepared)
	if err := PrepareInto(p, s, room); err != nil {
		return nil, err
	}
	return p, nil
}

// PrepareInto is Prepare into memory that an earlier Prepare has filled; it
// allocates only where that is too small. After an error p must be prepared
// again before use. room must not change as long as p is used.
func PrepareInto(p *Prepared, s Setup, room *cabin.Response) error {
	if err := s.check(room); err != nil {
		return err
	}
	c, err := s.Box.Circuit(s.Driver, s.Displacement, s.Air)
	if err != nil {
		return err
	}
	p.fill(&s.Driver, &c, float64(s.Boxes*s.Box.Drivers), room)
	return nil
}

// fill computes all points for a given circuit.
func (p *Prepared) fill(d *driver.Driver, c *enclosure.Circuit, drivers float64, room *cabin.Response) {
	p.driver, p.circuit = *d, *c
	p.drivers, p.coils = drivers, drivers*float64(d.Coils)
	p.hz, p.back = room.Hz, room.Back
	p.points = resize(p.points, len(room.Hz))
	p.loads = resize(p.loads, 0)
	if c.Kind != enclosure.Sealed {
		p.loads = resize(p.loads, len(room.Hz))
	}
	if p.heatSize != d.Size || p.heatMore != d.MoreHeatTime {
		p.heatTime, p.heatSize, p.heatMore = d.HeatTime(), d.Size, d.MoreHeatTime
		p.burstShare = p.heatShare(readingBurst)
	}
	perForce := 1 / (float64(d.Coils) * d.Bl) // A for each N
	perTravel := d.Xmax * perForce            // A for each N/m and u
	k := 1 / d.Cms
	p.stiffening = perTravel * k * stiffnessSquare
	lossGrowth := perTravel * d.Rms * d.LossGrowth()
	var own enclosure.Load
	best := -1.0
	for i, f := range room.Hz {
		w := 2 * math.Pi * f
		o := &p.points[i]
		l := &own
		if len(p.loads) > 0 {
			l = &p.loads[i]
		}
		c.Load(w, scale(room.Back[i], drivers), l)
		o.ar = perTravel * (k - w*w*d.Mms)
		o.ai = perTravel * w * d.Rms
		o.bi = w * lossGrowth
		o.cone = w * d.Sd * d.Xmax
		o.air = perTravel * w * d.Sd * d.Sd
		o.emf = w * d.Bl * d.Xmax
		o.zr, o.zx = inductance(d, w)
		// rms, all drivers
		o.output = square(room.Transfer[i]) * o.cone * o.cone * drivers * drivers / 2
		o.first = o.output * square(l.Output)
		o.need = 1 / math.Sqrt(o.first)
		// A volume velocity u moves with j u; times the reaction Z this is
		// a force along -Im Z in phase with the travel and Re Z in quadrature.
		fr := o.ar - o.air*imag(l.Reaction)
		fi := o.ai + o.air*real(l.Reaction)
		if len(p.loads) == 0 {
			o.ar, o.ai, o.output = fr, fi, o.first
		}
		// Where a volt makes the most sound is where the peak will be.
		er := fr*(d.Re+o.zr) - fi*o.zx
		ei := fi*(d.Re+o.zr) + fr*o.zx + o.emf
		if loud := o.first / (er*er + ei*ei); loud > best {
			best, p.seed = loud, i
		}
	}
	p.forget()
}

// inductance is the blocked coil's impedance at w without its resistance to
// direct current: driver.CoilImpedance less Re.
func inductance(d *driver.Driver, w float64) (re, im float64) {
	im = w * d.Le
	if d.L2 > 0 && d.R2 > 0 {
		x := w * d.L2 / d.R2
		f := d.R2 * x / (1 + x*x)
		re, im = f*x, im+f
	}
	return re, im
}

// Hz is the frequencies of the results, which must not be written to.
func (p *Prepared) Hz() []float64 { return p.hz }

// Circuit is the box that the prediction was made with.
func (p *Prepared) Circuit() enclosure.Circuit { return p.circuit }

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

func scale(z complex128, f float64) complex128 { return complex(real(z)*f, imag(z)*f) }
