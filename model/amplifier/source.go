package amplifier

import "math"

// From ratings to a source. A box shows an amplifier two or three times its
// nominal load just where it is loud, so what counts is the voltage at light
// loads, and no card states it. Two things are known of it (common practice, no
// source): rails sag a little under load, and what an amplifier gives less at low
// loads than its voltage would drive is a limit of current: its supply, its
// protection or its output devices. So
//
//	Voc = (1 + rise) max sqrt(P R)   a small rise beyond the rated voltage
//	Ri  = rise x lowest rated load   which brings that back at the lowest load
//	I   = max sqrt(P/R)              the current of some rating
//
// and the voltage into R is the lower of Voc R/(R+Ri) and I R. It reaches every
// rating that does not say less than another one at a lower load or a lower
// current, and lies at most the rise above the voltage of the lightest.
//
// Why the sag of two ratings is not read as a resistance beyond the rise: the
// straight line through 97 W at 4 and at 2 ohm has 33.7 V without load, through
// 100 W and 150 W 25.9 V, so that the poorer card would read 0.9 dB louder into
// the 8 ohm of a box. A source of a single resistance that grows with the sag,
// and reaches the lightest rating, does that however little it grows. With the
// rule above each of the three numbers moves one way with every rated power: a
// card that is nowhere better never reads higher, and one more line on a card, of
// the basis and the supply of its others, never makes it read lower. (A line that
// contradicts what another would be taken for is news, not more of the same: a bench
// that does not find what is claimed, or a rating at 14.4 V beside one at 12 V that
// would be scaled up to more.)

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
	// rise is how far the voltage without load lies above that at the lowest
	// load, where nothing but sag tells them apart: 0 for a regulated supply; 9 %
	// if all of the usual ratio of 1.7 for half the load were sag, of which a part
	// is a limit of current (common practice, no source).
	rise = 0.03
	// riseSpread is its standard deviation: it leaves both of these within two.
	riseSpread = 0.03
	// LoadTolerance is how far a load may be below a rated minimum: nominal
	// values are rounded (three coils of 4 ohm in parallel are 1.333 ohm,
	// and "1.33 ohm" on the card).
	LoadTolerance = 0.01
)

// Source is the source of one output in mode m, with all outputs of that
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
	best := Claimed
	for _, r := range ratings {
		best = max(best, r.Basis)
	}
	lowest := math.Inf(1)
	for _, r := range ratings {
		lowest = min(lowest, r.Load)
		src.Current = max(src.Current, math.Sqrt(r.Watts/r.Load))
		if r.Basis == best { // a claim adds nothing to a voltage that was measured
			src.OpenVoltage = max(src.OpenVoltage, (1+rise)*math.Sqrt(r.Watts*r.Load))
		}
	}
	src.Resistance = rise * lowest
	src.Efficiency = s.Efficiency()
	return src, lowest, notes, true
}

// Most is the largest power of one output at a rated load of mode m, W; 0 where
// the mode is not rated.
func (s Spec) Most(m Mode) (watts float64) {
	for _, r := range s.Ratings {
		if r.Mode == m {
			watts = max(watts, s.RatedWatts(m, r.Load))
		}
	}
	return watts
}

// Power is what the source gives a resistor, W, at RatedSupply. Between two rated
// loads it may be more than at either: up to Voc x I, as neither limit knows of the
// other.
func (src Source) Power(load float64) float64 {
	if !(load > 0) {
		return 0
	}
	current := min(src.OpenVoltage/(load+src.Resistance), src.Current)
	return current * current * load
}

// RatedWatts is what one output gives a resistor in mode m, W, after the
// honesty cut: at a rated load no more than its best-founded rating, and nowhere
// more than the fuse carries; 0 where the mode is not rated or the load is below
// its minimum.
func (s Spec) RatedWatts(m Mode, load float64) float64 {
	src, minimum, _, ok := s.Source(m)
	if !ok || load < minimum*(1-LoadTolerance) || math.IsInf(load, 0) {
		return 0
	}
	watts := src.Power(load)
	if ceiling, known := s.Ceiling(); known {
		watts = min(watts, ceiling/float64(s.Outputs(m)))
	}
	ratings, _ := s.honest(m)
	best, rated := Claimed, math.Inf(1)
	for _, r := range ratings {
		if math.Abs(r.Load-load) <= LoadTolerance*load && r.Basis >= best {
			best, rated = r.Basis, r.Watts
		}
	}
	return min(watts, rated)
}

// Spread is the relative standard deviation of the voltage in mode m at the load
// that a box shows: that of its best-founded rating, since the others come from the
// same hand and err the same way, and that of the rise, half of which shows at twice
// the lowest load. 0 where the mode is not rated.
func (s Spec) Spread(m Mode) float64 {
	spread := 0.0
	for _, r := range s.Ratings {
		if own := r.Basis.spread(); r.Mode == m && (spread == 0 || own < spread) {
			spread = own
		}
	}
	if spread == 0 {
		return 0
	}
	return math.Hypot(spread, riseSpread/2)
}
