package completion

import (
	"cmp"
	"math"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// How loud a pair of front speakers can get with so many watts, whatever filters
// it, without playing it. Behind one filter the level rises by ten decibels for
// ten times the power, up to what the pair can use; so with what it has at
// little power, and what it can use at most, it is known at every power. The
// best of all filters bounds what any part of a front stage makes of the pair.

// responseEnvelope is that of one pair.
type responseEnvelope struct {
	parts []piece
	least float64     // log10 of the watts of use that the rule asks for
	top   build.Level // with all the power there is
}

// piece is a pair behind one filter.
type piece struct {
	gain float64 // dB with 1 W a side
	most float64 // log10 of the watts of use at most
}

// envelopeOf works a pair's envelope out.
func (r *Lists) envelopeOf(c Speakers) *responseEnvelope {
	v := &responseEnvelope{least: math.Inf(-1)}
	if c.Fresh {
		v.least = math.Log10(r.Brief.FrontWatts * (1 - build.WattsTolerance))
	}
	add := func(f HighPass) {
		e := r.response(c, f)
		if little := min(littleWatt, e.most); little > 0 {
			v.parts = append(v.parts, piece{e.little - 10*math.Log10(little), math.Log10(e.most)})
		}
	}
	add(HighPass{})
	BuiltIn.each(add)
	seen := make(map[float64]bool)
	for _, b := range r.blockers {
		if c := b.Part.Blocker.Capacitance; seen[c] {
			continue
		} else {
			seen[c] = true
		}
		add(blocked(b, c.Load)[0])
	}
	// Those that none beats, the one that can use the most first.
	slices.SortFunc(v.parts, func(a, b piece) int {
		return cmp.Or(cmp.Compare(b.most, a.most), cmp.Compare(b.gain, a.gain))
	})
	kept := v.parts[:0]
	for _, p := range v.parts {
		if len(kept) == 0 || p.gain > kept[len(kept)-1].gain {
			kept = append(kept, p)
		}
	}
	v.parts = kept
	v.top = v.at(math.Log10(everyWatt))
	return v
}

// at bounds the level with the logarithm of a power; silent where the rule does
// not allow the pair.
func (v *responseEnvelope) at(watts float64) build.Level {
	most := math.Inf(-1)
	for i := range v.parts {
		p := &v.parts[i]
		if usable := min(watts, p.most); usable >= v.least-logTolerance {
			most = max(most, p.gain+10*usable)
		}
	}
	if math.IsInf(most, -1) {
		return build.Silent
	}
	return build.Round(most + build.BoundSlack)
}

// logTolerance covers the rounding of logarithms.
const logTolerance = 1e-9

// ownPower is an amplifier that may be a front's own, for pairs of one load.
type ownPower struct {
	item     *pricing.Item
	watts    float64 // a side
	log      float64
	demand   float64
	speaker  bool
	highPass bool
}

// powersKey says which amplifiers are listed.
type powersKey struct {
	load  float64
	quick bool // only the cheapest for any power, whatever current they draw
}

// powersFor lists the amplifiers for pairs of one load with what they give,
// cheapest first; without those that give nothing.
func (r *Lists) powersFor(k powersKey) []ownPower {
	if l, known := r.powers[k]; known {
		return l
	}
	var all []ownPower
	best := make(map[[2]bool]float64)
	for _, it := range r.owns {
		a := it.Part.Amplifier
		feature := [2]bool{a.SpeakerInput, a.HighPass}
		watts := r.StereoPower(it, k.load)
		if !(watts > 0) || k.quick && watts <= best[feature] {
			continue
		}
		best[feature] = max(best[feature], watts)
		all = append(all, ownPower{it, watts, math.Log10(watts), r.Amps[it].Demand, a.SpeakerInput, a.HighPass})
	}
	r.powers[k] = all
	return all
}

// loud are the pairs that could be as loud as a level with the power that there
// is for their load.
func (r *Lists) loud(least build.Level, power func(load float64) float64) (all []int) {
	logs := make(map[float64]float64)
	for i, c := range r.speakers {
		watts, known := logs[c.Load]
		if !known {
			watts = math.Log10(power(c.Load)) // no power, no level
			logs[c.Load] = watts
		}
		if l := r.envelopes[i].at(watts); l > build.Silent && l >= least {
			all = append(all, i)
		}
	}
	return all
}
