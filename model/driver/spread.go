package driver

import "math"

// Spreads of derived values, to first order: each value that was entered,
// stated or assumed, is moved a little by itself, everything is derived again,
// and the shifts are added as independent errors.
//
// Errors in fs and Vas are not independent, because both come mostly from the
// suspension: a softer one lowers fs and raises Vas and leaves the cone's
// weight alone. So a shift of an entered fs takes an entered Vas or Cms along
// (Cms, Vas ~ 1/fs^2), a shift of an entered Sd an entered Vas (Vas ~ Sd^2),
// and what is given as the spread of Vas is the spread of Mms.
//
// Other correlations are left out, on the wide side: a Qes found from a stated
// Qts and an assumed Qms moves against that Qms, which would keep Qts a little
// steadier (8 % rather than 10 %) than Vary does.

const (
	nudge       = 1e-4 // relative shift for the derivative
	spreadGrain = 1e-6 // so that the noise of rounding does not show; the shift itself is felt to some 5e-6
	leastSpread = 0.01 // nothing about a driver off the shelf is known better
)

func (w *work) spread() Spread {
	var variance [quantities]float64
	for q := range quantities {
		if w.state.origin[q].last != entered {
			continue
		}
		moved := w.nudged(q)
		sigma := w.entrySpread(q)
		for i := range quantities {
			if !moved.known.has(int(i)) {
				continue
			}
			slope := (moved.log[i] - w.state.log[i]) / nudge * sigma
			variance[i] += slope * slope
		}
	}
	bound := func(q quantity, most float64) float64 {
		return math.Max(leastSpread, math.Min(math.Round(math.Sqrt(variance[q]+w.doubt[q])/spreadGrain)*spreadGrain, most))
	}
	for q := range quantities {
		w.sigma[q] = bound(q, mostSpread)
	}
	return Spread{
		Re: bound(re, mostSpread), Fs: bound(fs, mostSpread), Qes: bound(qes, mostSpread),
		Vas: bound(mms, mostSpread), Sd: bound(sd, mostSpread),
		// A Qms found as a difference is never known worse than an assumed one.
		Qms: bound(qms, priorSpread.Qms),
	}
}

// nudged derives everything again with one entered value moved.
func (w *work) nudged(q quantity) state {
	s := state{k: &w.k}
	for i := range quantities {
		if w.state.origin[i].last == entered {
			s.put(i, w.state.log[i])
		}
	}
	s.log[q] += nudge
	for _, i := range [...]quantity{vas, cms} {
		switch {
		case !s.known.has(int(i)):
		case q == fs:
			s.log[i] -= 2 * nudge
		case q == sd && i == vas:
			s.log[i] += 2 * nudge
		}
	}
	s.close()
	return s
}

// entrySpread is the spread of an entered value by itself.
func (w *work) entrySpread(q quantity) float64 {
	if w.assumed.has(int(q)) {
		_, spread := w.typical(q)
		return spread
	}
	return statedSpread[q]
}
