package front

import "math"

// Another pair off the same shelf, in another cabin of the same kind. Each
// value moves by its own number of standard deviations: the sensitivity in
// decibels, the others log-normally, so that nothing turns negative. A value
// that was assumed moves by the spread of its prior, one that is stated by how
// far pairs lie from their own cards.
//
// The size is not moved: the spreads of what it stands for are those among
// pairs of one size. Nor are the filter's corner and the load, which matter
// less than the rest by far.

// How far a pair off the shelf lies from its own card (common practice, no
// source); a card's sensitivity is often that of one frequency, in a room.
const (
	statedSensitivitySpread = 1.5 // dB
	statedPowerSpread       = 0.2
	statedFsSpread          = 0.1
	statedSdSpread          = 0.05
	statedXmaxSpread        = 0.15
)

// Vary is the stage with sensitivity, power, fs, Sd and Xmax moved by z
// standard deviations, in this order. Vary of all zeros plays as the stage does.
func (s Stage) Vary(z [5]float64) Stage {
	full := s.complete(nil)
	spread := func(v float64, card float64, p prior) float64 {
		if stated(v) {
			return card
		}
		return p.spread
	}
	full.Sensitivity += z[0] * spread(s.Sensitivity, statedSensitivitySpread, sensitivityPrior)
	full.Power *= math.Exp(z[1] * spread(s.Power, statedPowerSpread, powerPrior))
	full.Fs *= math.Exp(z[2] * spread(s.Fs, statedFsSpread, fsPrior))
	full.Sd *= math.Exp(z[3] * spread(s.Sd, statedSdSpread, sdPrior))
	full.Xmax *= math.Exp(z[4] * spread(s.Xmax, statedXmaxSpread, xmaxPrior))
	return full
}

// Vary is the cabin with absorption and distance moved by z standard
// deviations, as far as they were assumed. The lengths are those of the car's
// body, which the bass sees as well, and change the level by little.
func (r Room) Vary(z [2]float64) Room {
	full := r.complete(nil)
	if !stated(r.Absorption) {
		full.Absorption *= math.Exp(z[0] * absorptionPrior.spread)
	}
	if !stated(r.Distance) {
		full.Distance *= math.Exp(z[1] * distancePrior.spread)
	}
	return full
}
