package cabin

import (
	"fmt"
	"math"
)

// What the walls take from the sound at a frequency.
//
// Trim absorbs less the lower the frequency: a layer thin against the wave
// absorbs with the square of frequency, and so does a panel below its resonance,
// while a leak past a seal takes the same at all frequencies. One admittance
// that is constant lets the pressure zone lose as much as the first mode. So the
// admittance goes with a power of frequency, and the uniform mode has a loss of
// its own; both are assumed until readings tell them.
//
// Panels (roof, glass, skins) give way as masses on springs. Over the moving
// share of their wall each adds the specific admittance
//
//	beta_p(w) = q rho c / [eta m w_p + j (w m - m w_p^2 / w)]
//
// to the loss of the modes that press on it, complex, so that it moves them too
// (H. Kuttruff, Room Acoustics, a resonant panel as a wall; first order in
// beta_p A / (k V), so that near its own resonance a share above a tenth is
// overdone).

// Panel is a part of a wall that gives way.
type Panel struct {
	Wall      Wall
	Share     float64 // of the wall's area that moves, as a piston would
	Resonance float64 // Hz
}

// What is assumed of a panel's sheet (common practice, no source: steel of 0.7
// to 1 mm with damping pads, glass of 3 to 4 mm).
const (
	panelDensity = 8.0  // kg/m2
	panelLoss    = 0.15 // loss factor
)

// How well a panel is known: its share is a guess from a tenth to three tenths,
// its resonance lies between 25 and 60 Hz, nine in ten of each (common practice,
// no source).
const (
	panelShareSpread     = 0.35
	panelResonanceSpread = 0.27
)

// Bounds of what a panel may be.
const (
	mostPanel     = 0.3 // share of the wall
	softestPanel  = 5.0 // Hz
	stiffestPanel = 500.0
)

func (p Panel) check() error {
	switch {
	case !p.Wall.known():
		return fmt.Errorf("a panel is in %v: a wall is front, rear, left, right, floor or roof", p.Wall)
	case !finite(p.Share) || p.Share < 0 || p.Share > mostPanel:
		return fmt.Errorf("the %v gives way with %g %% of its area: between 0 and %.0f %% are computed", p.Wall, 100*p.Share, 100*mostPanel)
	case !finite(p.Resonance) || p.Resonance < softestPanel || p.Resonance > stiffestPanel:
		return fmt.Errorf("the %v resonates at %g Hz: it must lie between %g and %g Hz", p.Wall, p.Resonance, softestPanel, stiffestPanel)
	}
	return nil
}

// losses is what the walls take at one frequency.
type losses struct {
	beta float64       // of the walls
	zone float64       // of the uniform mode, times that
	axis [3]complex128 // sum of beta_p A_p / V of the panels across each axis, 1/m
}

func (c Cavity) losses(hz float64) losses {
	size := c.lengths()
	first := c.Air.SoundSpeed / (2 * max(size[0], size[1], size[2]))
	l := losses{zone: math.Exp(c.Zone), beta: c.Admittance}
	if c.Exponent != 0 {
		l.beta = min(l.beta*math.Pow(hz/first, c.Exponent), admittable)
	}
	w := 2 * math.Pi * hz
	for _, p := range c.Panels {
		at := 2 * math.Pi * p.Resonance
		beta := complex(p.Share*c.Air.Density*c.Air.SoundSpeed, 0) /
			complex(panelDensity*panelLoss*at, panelDensity*(w-at*at/w))
		// The area of a wall over the volume is one over the length across it.
		l.axis[p.Wall.normal()] += times(1/size[p.Wall.normal()], beta)
	}
	return l
}

// panels is their share in the loss of a kind of mode: a wall counts twice for
// modes that vary across it.
func (l losses) panels(kind int) complex128 {
	n := indices(kind)
	var sum complex128
	for i, a := range l.axis {
		sum += times(twice(n[i]), a)
	}
	return sum
}
