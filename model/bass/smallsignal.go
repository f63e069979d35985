package bass

import (
	"math"
	"math/cmplx"

	"loudfor/model/enclosure"
)

// Small signals: the linear, cold circuit solved forward from a voltage, as
// handbooks do. It shares none of the arithmetic of the large-signal search,
// which goes backwards from the travel, so that each checks the other.

// SmallSignal is the operation at frequency i of Hz under a given voltage, V
// rms, at each output of the drive's hookup: linear, cold, no limits; the
// source and feed of the drive are not used.
func (p *Prepared) SmallSignal(i int, d Drive, volts float64) Operation {
	w := 2 * math.Pi * p.hz[i]
	dr := &p.driver
	l := p.load(i)
	coils, series, parallel := float64(dr.Coils), float64(max(d.Series, 1)), float64(max(d.Parallel, 1))
	mechanical := complex(dr.Rms, w*dr.Mms-1/(w*dr.Cms)) + scale(l.Reaction, dr.Sd*dr.Sd)
	zr, zx := inductance(dr, w)
	// All coils of a driver push together: each meets the motion of C forces.
	coil := complex(dr.Re+zr, zx) + complex(coils*dr.Bl*dr.Bl, 0)/mechanical
	current := complex(volts/series, 0) / coil // rms, one coil
	velocity := complex(coils*dr.Bl, 0) * current / mechanical
	cone := cmplx.Abs(velocity) * math.Sqrt2 * dr.Sd // peak
	o := Operation{
		Hz:     p.hz[i],
		Volts:  volts,
		Amps:   parallel * cmplx.Abs(current),
		Load:   cmplx.Abs(coil) * series / parallel,
		Phase:  cmplx.Phase(coil),
		Travel: cmplx.Abs(velocity) * math.Sqrt2 / w,
		Limit:  LimitNone,
	}
	o.Apparent = o.Volts * o.Amps * float64(d.Outputs)
	o.Watts = o.Apparent * math.Cos(o.Phase)
	if p.circuit.PortArea > 0 {
		o.PortSpeed = cone * cmplx.Abs(l.Port) / p.circuit.PortArea
	}
	perTravel := o.Travel / dr.Xmax
	o.Level = level(p.points[i].first * perTravel * perTravel)
	return o
}

// load is the circuit's solution at point i; that of a sealed box is not kept,
// since the points hold all that the search needs of it.
func (p *Prepared) load(i int) enclosure.Load {
	if len(p.loads) > 0 {
		return p.loads[i]
	}
	var l enclosure.Load
	p.circuit.Load(2*math.Pi*p.hz[i], scale(p.back[i], p.drivers), &l)
	return l
}
