package amplifier

import "math"

// The Thevenin fit. An unregulated amplifier's rails sag as it is loaded, so
// its largest undistorted voltage into R is, closely,
//
//	V(R) = sqrt(P R) = Voc R/(R + Ri),   that is   1/V = 1/Voc + (Ri/Voc) (1/R)
//
// a straight line in 1/R. Two ratings fix it, more are fitted by least
// squares in the relative error, the better-founded rating counting more. A
// regulated amplifier comes out with Ri = 0.

// Source is one output of the amplifier as its load meets it, at a supply of
// RatedSupply volts: an ideal sine source behind a resistance, which cannot
// pass more than a certain current.
type Source struct {
	OpenVoltage float64 // V rms without load, just below clipping
	Resistance  float64 // ohm, in series
	Current     float64 // A rms, the most it will pass
	Efficiency  float64 // audio watts per watt taken from the supply, near full output
}

// Note is one thing that a reader of the result must know about a rating.
type Note struct {
	Rating  Rating
	Claimed float64 // W of one output, as claimed, at RatedSupply
	CutTo   float64 // W of one output used instead; equal to Claimed if nothing was cut
	Reason  string
}

const (
	// usualRatio is the power at half the load over the power at the load
	// (common practice, no source: 1.6 to 1.8). It fixes the resistance
	// where a mode has only one rating.
	usualRatio = 1.7

	// distinctLoads is how far apart two loads must be to tell a slope.
	distinctLoads = 1.05

	// LoadTolerance is how far a load may be below a rated minimum: nominal
	// values are rounded (three coils of 4 ohm in parallel are 1.333 ohm,
	// and "1.33 ohm" on the card).
	LoadTolerance = 0.01
)

// Source fits the source of one output in mode m, with all outputs of that
// mode in use. minimumLoad is the lowest rated load, ohm; it carries over to
// no other mode. notes lists the ratings that were cut, or could not be
// checked. ok is false when the mode is not rated or Check finds a fault.
func (s Spec) Source(m Mode) (src Source, minimumLoad float64, notes []Note, ok bool) {
	if s.Check() != nil {
		return Source{}, 0, nil, false
	}
	ratings, notes := s.honest(m)
	if len(ratings) == 0 {
		return Source{}, 0, nil, false
	}

	lowest, highest := math.Inf(1), 0.0
	for _, r := range ratings {
		lowest, highest = min(lowest, r.Load), max(highest, r.Load)
		// The amplifier passes the current of each of its ratings; most
		// passes at the lowest load, unless a limiter steps in before.
		src.Current = max(src.Current, math.Sqrt(r.Watts/r.Load))
	}
	src.Resistance = resistance(ratings, lowest, highest)
	src.OpenVoltage = openVoltage(ratings, src.Resistance)
	src.Efficiency = s.Efficiency()
	s.holdUnderCeiling(&src, m, lowest)
	return src, lowest, notes, true
}

// resistance is Ri of the best line, kept between a regulated amplifier's 0
// and sqrt(lowest highest). At the latter the power is the same at both ends;
// an amplifier that gives less into less is in its current limit there, which
// is no matter of resistance and would send the open-circuit voltage sky-high.
func resistance(ratings []Rating, lowest, highest float64) float64 {
	if highest < lowest*distinctLoads {
		// q = V(R/2)/V(R) = (R + Ri)/(R + 2 Ri), solved for Ri.
		q := math.Sqrt(usualRatio / 2)
		return lowest * (1 - q) / (2*q - 1)
	}
	var sw, sx, sy, sxx, sxy float64
	for _, r := range ratings {
		w, x, y := weigh(r)
		sw, sx, sy, sxx, sxy = sw+w, sx+w*x, sy+w*y, sxx+w*x*x, sxy+w*x*y
	}
	slope := sw*sxy - sx*sy
	intercept := sxx*sy - sx*sxy
	most := math.Sqrt(lowest * highest)
	switch {
	case slope <= 0:
		return 0
	case intercept*most <= slope:
		return most
	}
	return slope / intercept
}

// openVoltage is Voc of the best line once Ri is known.
func openVoltage(ratings []Rating, ri float64) float64 {
	var above, below float64
	for _, r := range ratings {
		w, x, y := weigh(r)
		f := 1 + ri*x
		above += w * f * f
		below += w * f * y
	}
	return above / below
}

// weigh gives a rating as a point of the line: x = 1/R, y = 1/V, and the
// weight of its squared error. An error of 1/V divided by 1/V is the relative
// error of V, and that in units of its spread is what should be small.
func weigh(r Rating) (w, x, y float64) {
	v := math.Sqrt(r.Watts * r.Load)
	w = v / r.Basis.spread()
	return w * w, 1 / r.Load, 1 / v
}

// holdUnderCeiling lowers the source where the line, which need not pass
// through every rating, would give more than the fuse lets through.
func (s Spec) holdUnderCeiling(src *Source, m Mode, lowest float64) {
	ceiling, known := s.Ceiling()
	if !known {
		return
	}
	// As R rises, power rises while the current limit binds; after that it
	// is largest at R = Ri and falls on either side.
	unlimited := src.OpenVoltage/src.Current - src.Resistance
	most := src.Power(max(lowest, src.Resistance, unlimited)) * float64(s.Outputs(m))
	if most > ceiling {
		// Both, so that the place of the largest power stays where it is.
		fall := math.Sqrt(ceiling / most)
		src.OpenVoltage *= fall
		src.Current *= fall
	}
}

// Power is what the source gives a resistor, W, at RatedSupply.
func (src Source) Power(load float64) float64 {
	if !(load > 0) {
		return 0
	}
	current := min(src.OpenVoltage/(load+src.Resistance), src.Current)
	return current * current * load
}

// RatedWatts is what one output gives a resistor in mode m, W, after the
// honesty cut; 0 where the mode is not rated or the load is below its minimum.
func (s Spec) RatedWatts(m Mode, load float64) float64 {
	src, minimum, _, ok := s.Source(m)
	if !ok || load < minimum*(1-LoadTolerance) || math.IsInf(load, 0) {
		return 0
	}
	return src.Power(load)
}

// Spread is the relative standard deviation of the open-circuit voltage in
// mode m: that of its best-founded rating, since the others come from the
// same hand and err the same way. 0 where the mode is not rated.
func (s Spec) Spread(m Mode) float64 {
	spread := 0.0
	for _, r := range s.Ratings {
		if r.Mode != m {
			continue
		}
		if own := r.Basis.spread(); spread == 0 || own < spread {
			spread = own
		}
	}
	return spread
}
