package front

import (
	"fmt"
	"math"
)

// The level at the seat: a source of sound power W in a wall gives
//
//	p^2 = W rho c (Q/(4 pi r^2) + 4/R),   R = S alpha/(1 - alpha)
//
// the direct sound and the diffuse field of the cabin (H. Kuttruff, Room
// Acoustics, steady-state sound field). The speaker's sensitivity is the same
// formula at 1 m without a room, so rho c and W cancel: what is left is the
// ratio of the brackets.

const (
	// halfSpace is Q of a speaker in a wall; the field of the sensitivity.
	halfSpace = 2.0

	// pair is two speakers with music: their powers add.
	pair = 2.0

	// leastAbsorption and most keep R between a bare shell and open air.
	leastAbsorption, mostAbsorption = 0.02, 0.98

	// takeover is where the front takes over from the bass, Hz: the first
	// third-octave band above a subwoofer's usual low-pass of 80 to 120 Hz
	// (common practice, no source; band centre after IEC 61260-1). Music is
	// balanced only if the front is still there, so its level counts there.
	takeover = 125.0

	// noticeableHole is the loss at takeover that is worth a remark, dB.
	noticeableHole = 3.0

	// leastDistance keeps the ears out of the cone.
	leastDistance = 0.2

	// Silent is the level of a front stage that is not driven, dB.
	Silent = -400.0
)

// gain is the level at the ears over that at 1 m in a half space, as a ratio
// of squared pressures. The room is complete.
func (r Room) gain() float64 {
	surface := 2 * (r.Length*r.Width + r.Width*r.Height + r.Height*r.Length)
	alpha := min(max(r.Absorption, leastAbsorption), mostAbsorption)
	constant := surface * alpha / (1 - alpha)
	distance := max(r.Distance, leastDistance)
	field := halfSpace/(4*math.Pi*distance*distance) + 4/constant
	return field / (halfSpace / (4 * math.Pi))
}

// Play is the level at the seat, dB, of the pair with the most power a side
// that the amplifier gives, the speakers are rated for and their cones can
// follow, and which of them it is; Silent with no power. The level is that at
// the lower end of what the front has to play, so a high-pass set too high,
// which leaves a hole between bass and front, costs what it takes away there.
// It allocates nothing. Neither level nor usable ever falls as Watts rises.
func (s Stage) Play(r Room) (level, usable float64, limit Limit) {
	s = s.complete(nil)
	usable, limit = s.usable()
	if usable <= 0 {
		return Silent, 0, limit
	}
	level = s.Sensitivity + 10*(math.Log10(usable)+math.Log10(pair*r.complete(nil).gain())) - s.hole()
	return max(level, Silent), usable, limit
}

// hole is what the high-pass of a complete stage takes away at takeover, dB.
func (s Stage) hole() float64 { return 10 * math.Log10(s.highPassed(takeover)) }

// usable is the power of a complete stage and what limits it.
func (s Stage) usable() (watts float64, limit Limit) {
	watts, limit = s.Watts, LimitAmplifier
	if s.Power < watts {
		watts, limit = s.Power, LimitRating
	}
	if travel := s.travelWatts(); travel < watts {
		watts, limit = travel, LimitTravel
	}
	return watts, limit
}

// Level is Play together with what was assumed and what to know about it.
func (s Stage) Level(r Room) (level, usable float64, limit Limit, notes []Note) {
	level, usable, limit = s.Play(r)
	assumed := func(p prior, v float64) {
		notes = append(notes, Note{Assumed, p.quantity, v, p.spread, p.source})
	}
	full := s.complete(assumed)
	r.complete(assumed)

	remark := func(quantity string, v float64, format string, values ...any) {
		notes = append(notes, Note{Kind: Remark, Quantity: quantity, Value: v, Source: fmt.Sprintf(format, values...)})
	}
	if full.HighPass == 0 && limit == LimitTravel {
		remark("high-pass", 0, "without a high-pass the bass takes up the cones' travel: only %.0f W a side are of use", usable)
	}
	if hole := full.hole(); hole > noticeableHole {
		remark("high-pass", full.HighPass, "at %.0f Hz it leaves a hole between bass and front: %.1f dB are missing at %g Hz", full.HighPass, hole, takeover)
	}
	if usable < RecommendedWatts {
		remark("power", usable, "less than the %g W a side that a front stage needs (common practice, no source)", RecommendedWatts)
	}
	if full.Watts > full.Power {
		remark("power", full.Watts, "more than the speakers' %.0f W is not used: it only sounds harsh, and burns coils", full.Power)
	}
	return level, usable, limit, notes
}
