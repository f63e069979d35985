package cabin

import (
	"fmt"
	"math"

	"loudfor/model/air"
)

// Cavity is the inside of the car as a box with six locally reacting walls.
type Cavity struct {
	Length, Width, Height float64 // m, along X, Y and Z
	// Admittance is the specific admittance of the walls at the frequency of
	// the lowest mode, rho c over their impedance: real, 0 for rigid walls, the
	// same on all six.
	Admittance float64
	Air        air.Air
	// Exponent is that of frequency in the walls' admittance: 0, the same at all
	// frequencies; 2, what thin trim and panels below their resonance do.
	Exponent float64
	// Zone is how much more (or less) than that the uniform mode loses, the
	// natural logarithm of the ratio: seals and vents leak where trim hardly
	// absorbs.
	Zone float64
	// Ground is the height of the floor above the ground, m.
	Ground float64
	// Panels are the sheets that give way.
	Panels []Panel
}

// Limits of what is accepted as a cavity. They keep the arithmetic far from
// overflow and the sums short; no car comes near them.
const (
	shortest   = 0.05 // m
	longest    = 12   // m
	admittable = 1    // beta: above it a wall is no wall
	steepest   = 4    // power of frequency
	mostZone   = 6    // about 400 times more or less
	lowest     = 0.1  // Hz
	highest    = 500  // Hz
)

func (c Cavity) lengths() [3]float64 { return [3]float64{c.Length, c.Width, c.Height} }

// Volume is the volume of the cavity, m3.
func (c Cavity) Volume() float64 { return c.Length * c.Width * c.Height }

// Check reports the first thing that makes the cavity impossible.
func (c Cavity) Check() error {
	names := [3]string{"length", "width", "height"}
	for i, l := range c.lengths() {
		if !finite(l) || l < shortest || l > longest {
			return fmt.Errorf("cabin %s is %g m: it must lie between %g and %g m", names[i], l, shortest, float64(longest))
		}
	}
	if !finite(c.Admittance) || c.Admittance < 0 || c.Admittance > admittable {
		return fmt.Errorf("wall admittance is %g: it must lie between 0 (rigid) and %d", c.Admittance, admittable)
	}
	if !finite(c.Exponent) || math.Abs(c.Exponent) > steepest {
		return fmt.Errorf("the wall admittance goes with the power %g of frequency: it must lie between %d and %d", c.Exponent, -steepest, steepest)
	}
	if !finite(c.Zone) || math.Abs(c.Zone) > mostZone {
		return fmt.Errorf("the pressure zone loses %.3g times what the walls say: it must lie between %g and %g", math.Exp(c.Zone), math.Round(math.Exp(-mostZone)*1000)/1000, math.Round(math.Exp(mostZone)))
	}
	if !finite(c.Ground) || c.Ground < 0 || c.Ground > longest {
		return fmt.Errorf("the floor is %g m above the ground: it must lie between 0 and %g m", c.Ground, float64(longest))
	}
	for _, p := range c.Panels {
		if err := p.check(); err != nil {
			return err
		}
	}
	if !finite(c.Air.Density) || !finite(c.Air.SoundSpeed) || c.Air.Density <= 0 || c.Air.SoundSpeed <= 0 {
		return fmt.Errorf("air of density %g kg/m3 and sound speed %g m/s is impossible", c.Air.Density, c.Air.SoundSpeed)
	}
	return nil
}

// CheckPlace reports a point that lies outside the cavity.
func (c Cavity) CheckPlace(p Point) error {
	at, size := p.axes(), c.lengths()
	for i := range at {
		if !finite(at[i]) || at[i] < -touch || at[i] > size[i]+touch {
			return fmt.Errorf("place %v lies outside the cabin of %g x %g x %g m", p, c.Length, c.Width, c.Height)
		}
	}
	return nil
}

// CheckOpenings reports openings that do not fit their wall or each other.
func (c Cavity) CheckOpenings(openings []Opening) error {
	if len(openings) > mostOpenings {
		return fmt.Errorf("%d openings: at most %d are computed", len(openings), mostOpenings)
	}
	size := c.lengths()
	for i, o := range openings {
		if !o.Wall.known() {
			return fmt.Errorf("opening %d is in %v: a wall is front, rear, left, right, floor or roof", i+1, o.Wall)
		}
		u, v := o.Wall.plane()
		if !finite(o.Width) || !finite(o.Height) || o.Width < smallestSide || o.Height < smallestSide {
			return fmt.Errorf("%v: each side must be at least %g m", o, smallestSide)
		}
		if !finite(o.U) || !finite(o.V) || o.U < -touch || o.V < -touch ||
			o.U+o.Width > size[u]+touch || o.V+o.Height > size[v]+touch {
			return fmt.Errorf("%v sticks out of the wall of %g x %g m", o, size[u], size[v])
		}
		if err := o.checkLeaf(); err != nil {
			return err
		}
		for _, p := range openings[:i] {
			if o.overlaps(p) {
				return fmt.Errorf("%v overlaps the %v", o, p)
			}
		}
	}
	return nil
}

const (
	// mostOpenings bounds the size of the dense system, not the physics.
	mostOpenings = 12
	// smallestSide keeps tiles wide enough for the sums to converge, and
	// viscosity out of the hole, m.
	smallestSide = 0.02
)

// FirstModeQ is the Q that the wall admittance gives the lowest mode: k_1 V /
// (beta S_1), S_1 the walls weighted as the mode presses on them (H. Kuttruff,
// Room Acoustics, chapter 3): 1 where it is even across a wall, else 2. Rigid
// walls give 10000, for no real wall is free of losses.
func (c Cavity) FirstModeQ() float64 {
	return 1 / (c.Admittance/c.stiffness() + 1/rigidQ)
}

// AdmittanceForQ is the wall admittance that gives the lowest mode of c the
// quality factor q: the inverse of FirstModeQ. What no wall can do is brought
// to what the nearest wall does: 0 for a q beyond that of rigid walls, 1 for a
// q of zero or less.
func AdmittanceForQ(c Cavity, q float64) float64 {
	if !(q > 0) {
		return admittable
	}
	return min(max((1/q-1/rigidQ)*c.stiffness(), 0), admittable)
}

// stiffness is k_1 V / S_1, the Q of the lowest mode times the admittance.
func (c Cavity) stiffness() float64 {
	size := c.lengths()
	long := 0
	for i, l := range size {
		if l > size[long] {
			long = i
		}
	}
	var n [3]int
	n[long] = 1
	return math.Pi / size[long] * c.Volume() / c.pressed(n, nil)
}

// pressed is the wall area weighted by the mean square of a mode on it over
// its mean square in the volume, m2: each wall counts once if the mode's index
// across it is 0, else twice. What is open is no wall and absorbs nothing.
func (c Cavity) pressed(n [3]int, openings []Opening) float64 {
	size := c.lengths()
	area := 0.0
	for i := range size {
		area += 2 * c.Volume() / size[i] * twice(n[i])
	}
	for _, o := range openings {
		area -= o.Area() * twice(n[o.Wall.normal()])
	}
	return area
}

// checkPatch reports a patch that is impossible or sticks out of the cavity.
func (c Cavity) checkPatch(p Patch) error {
	if err := c.CheckPlace(p.Center); err != nil {
		return err
	}
	at, extent, size := p.Center.axes(), p.Size.axes(), c.lengths()
	for i := range at {
		if !finite(extent[i]) || extent[i] < 0 {
			return fmt.Errorf("size %v of the source is negative or not a number", p.Size)
		}
		if at[i]-extent[i]/2 < -touch || at[i]+extent[i]/2 > size[i]+touch {
			return fmt.Errorf("source of %v at %v sticks out of the cabin of %g x %g x %g m",
				p.Size, p.Center, c.Length, c.Width, c.Height)
		}
	}
	return nil
}
