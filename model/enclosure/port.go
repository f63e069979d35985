package enclosure

import (
	"math"

	"loudfor/model/air"
)

// The port: a plug of air that moves as one. Its mass is that of the air
// inside plus what moves along at either end (the end corrections); with the
// springiness of the chamber it makes the Helmholtz resonance. Its resistance
// has two parts: the drag at the wall, which is always there, and the kinetic
// energy lost where the stream leaves the far end and where it turns into the
// near one, which grows with the speed and is what port compression is.

const (
	// flangedEnd and freeEnd are the end corrections in equivalent radii: 8/(3 pi)
	// for an end in a wall, 0.6133 for a free one (L. Beranek and T. Mellow,
	// Acoustics: Sound Fields and Transducers; L. Levine and J. Schwinger, 1948).
	flangedEnd = 8 / (3 * math.Pi)
	freeEnd    = 0.6133

	// A stream that leaves a pipe loses its whole dynamic pressure; one that
	// enters loses half of it at a sharp edge flush with a wall and all of it
	// at a thin free edge (I. Idelchik, Handbook of Hydraulic Resistance,
	// chapter 3, from memory). Rounded mouths lose less: left out, since
	// catalogues do not state the rounding.
	exitLoss         = 1.0
	flushEntrance    = 0.5
	freeEdgeEntrance = 1.0

	// viscosity of air at 20 C, Pa s (ISO 2533, from memory); it changes by
	// 0.25 % a kelvin, its root, which is what counts, by half of that.
	viscosity = 1.81e-5

	// assumedPortArea is the area of a port of which only the tuning is
	// stated, m2 per m3 of its chamber: 12 square inches a cubic foot, the
	// lower end of what the trade cuts (common practice, no source).
	assumedPortArea = 12 * 0.0254 * 0.0254 / (0.3048 * 0.3048 * 0.3048)
)

// Stated tells whether the port's size is known.
func (p Port) Stated() bool { return p.Diameter > 0 || (p.Width > 0 && p.Height > 0) }

// Area is the open area of all ports together, m2.
func (p Port) Area() float64 { return float64(p.Count) * p.single() }

func (p Port) single() float64 {
	if p.Diameter > 0 {
		return math.Pi / 4 * p.Diameter * p.Diameter
	}
	return p.Width * p.Height
}

// perimeter of one port, m: where the air rubs.
func (p Port) perimeter() float64 {
	if p.Diameter > 0 {
		return math.Pi * p.Diameter
	}
	return 2 * (p.Width + p.Height)
}

// Air is the volume of air inside all ports, m3, which the chamber lacks.
func (p Port) Air() float64 { return p.Area() * p.Length }

// EndCorrection is the length, m, by which the air moving along at both ends
// makes one port longer. A slot is taken as a round port of equal area.
func (p Port) EndCorrection() float64 {
	radius := math.Sqrt(p.single() / math.Pi)
	flanged := float64(p.FlangedEnds)
	return radius * (flanged*flangedEnd + (2-flanged)*freeEnd)
}

// Mass is the acoustic mass of all ports together, kg/m4.
func (p Port) Mass(a air.Air) float64 {
	return a.Density * (p.Length + p.EndCorrection()) / p.Area()
}

// Tuning is the Helmholtz resonance, Hz, of a chamber of volume m3 with the
// port: c/(2 pi) sqrt(S/(V L')), L' with the end corrections (Beranek and
// Mellow).
func (p Port) Tuning(volume float64, a air.Air) float64 {
	return resonance(p.Mass(a), volume/(a.Density*a.SoundSpeed*a.SoundSpeed))
}

// LengthFor is the physical length, m, that tunes a chamber of volume m3 to a
// frequency in Hz: the inverse of Tuning. It is negative when the area is too
// small a hole's for that: even without any length the tuning would be lower.
func (p Port) LengthFor(tuning, volume float64, a air.Air) float64 {
	w := 2 * math.Pi * tuning / a.SoundSpeed
	return p.Area()/(volume*w*w) - p.EndCorrection()
}

// drag is the resistance of the walls of all ports together at a frequency,
// Pa s/m3: sqrt(w rho mu/2) on each square metre of wall where the boundary
// layer is thin against the width, as it is in any port (L. Kinsler et al.,
// Fundamentals of Acoustics; from memory).
func (p Port) drag(hz float64, a air.Air) float64 {
	wall := math.Sqrt(2 * math.Pi * hz * a.Density * viscosity / 2)
	s := p.single()
	return wall * p.perimeter() * (p.Length + p.EndCorrection()) / (s * s) / float64(p.Count)
}

// loss is the dynamic pressures lost in one pass, averaged over both
// directions: each end is the entrance half of the time.
func (p Port) loss() float64 {
	flanged := float64(p.FlangedEnds)
	return exitLoss + (flanged*flushEntrance+(2-flanged)*freeEdgeEntrance)/2
}

// turbulence is the growth of the ports' resistance with the peak volume
// velocity through them together, Pa s2/m6. A pressure loss K rho v|v|/2 under
// v = V cos(wt) has the fundamental (8/(3 pi)) K rho V^2/2, so that the
// resistance is 4 K rho U/(3 pi S^2).
func (p Port) turbulence(a air.Air) float64 {
	s := p.Area()
	return 4 * p.loss() * a.Density / (3 * math.Pi * s * s)
}

// assumedPort is the port of a chamber of which only the tuning is stated: one
// round port, flush outside and free inside.
func assumedPort(volume, tuning float64, a air.Air) Port {
	p := Port{Count: 1, FlangedEnds: 1}
	p.Diameter = math.Sqrt(4 / math.Pi * assumedPortArea * volume)
	p.Length = max(0, p.LengthFor(tuning, volume, a))
	return p
}

// resonance of an acoustic mass and compliance, Hz.
func resonance(mass, compliance float64) float64 {
	return 1 / (2 * math.Pi * math.Sqrt(mass*compliance))
}
