package optimizer

import "loudfor/optimizer/completion"

// What drives the front of an arrangement, under the rules.

// driveFront tries what can drive the front speakers.
func (t *task) driveFront(a arrangement, spare bool, want demands, try func(arrangement)) {
	if t.Open && want.lenient && !t.Music() { // no cabin, no front that anybody asked for
		a.music = a.bassMusic - t.Brief.BassLift
		try(a)
		return
	}
	done := false
	attempt := func(power FrontPower, watts float64, highPass bool) {
		if !(watts > 0) {
			return
		}
		b := a
		b.power, b.given = power, watts
		switch {
		case a.blocker != nil:
			b.filter = completion.BlockerHighPass(a.blocker.Part.Blocker, a.choice.Load)
			if highPass {
				b.filter = b.filter.Beside()
			}
		case highPass:
			b.filter = completion.BuiltIn
		}
		b.filter = t.rests.Tuned(b.choice, watts, b.filter)
		if !want.lenient && (!t.connected(&b) || !t.ruled(&b) || t.idle(&b, highPass)) {
			return
		}
		b.front, b.usable, b.stops, _ = b.choice.Stage(watts, b.filter.Hz, b.filter.Order).Level(t.Cabin)
		b.music = min(b.bassMusic-t.Brief.BassLift, b.front)
		done = true
		try(b)
	}
	fromSource := a.source != nil && a.source.Part.Source.HighPass
	if a.own != nil {
		if want.lenient || t.ownAllowed(&a) {
			attempt(FromOwn, t.rests.StereoPower(a.own, a.choice.Load), fromSource || a.own.Part.Amplifier.HighPass)
		}
	} else {
		if a.source != nil {
			attempt(FromSource, completion.SourcePower(a.source.Part.Source, a.choice.Load), fromSource)
		}
		if spare {
			attempt(FromBass, t.rests.StereoPower(a.amp, a.choice.Load), fromSource || a.amp.Part.Amplifier.HighPass)
		}
	}
	if want.lenient && !done {
		a.music = a.bassMusic - t.Brief.BassLift
		try(a)
	}
}

// ownAllowed is the rule against idle amplifiers.
func (t *task) ownAllowed(a *arrangement) bool {
	used := 0
	if a.own == a.amp {
		used = a.number
	}
	if t.Music() || a.own.Must > used && !a.own.Used {
		return true
	}
	return !t.rests.Drives(a.choice, a.source.Part.Source)
}

// idle says whether a blocker or a line converter has nothing to do.
func (t *task) idle(a *arrangement, highPass bool) bool {
	if a.convert != nil && !a.convert.MayBeUnused() && (a.source.Part.Source.PreOuts > 0 || t.lineChannels(a) == 0) {
		return true
	}
	if a.blocker == nil || a.blocker.MayBeUnused() {
		return false
	}
	if highPass {
		return true
	}
	_, without := t.rests.Play(a.choice, a.given, completion.HighPass{})
	return without && !t.Music()
}

// connected says whether the signal reaches every amplifier.
func (t *task) connected(a *arrangement) bool {
	src := a.source.Part.Source
	if src.PreOuts > 0 || t.Relaxed.Signal {
		return true
	}
	if src.Channels < 2 {
		return false
	}
	need := t.lineChannels(a)
	return need == 0 || a.convert != nil && a.convert.Part.Converter.Channels >= need
}

// lineChannels is how many channels a line converter must have when the source
// has no line outputs.
func (t *task) lineChannels(a *arrangement) (need int) {
	if !a.amp.Part.Amplifier.SpeakerInput {
		need = 1
		if a.power == FromBass {
			need = 2
		}
	}
	if a.power == FromOwn && !a.own.Part.Amplifier.SpeakerInput {
		need = 2
	}
	return need
}

// ruled says whether the front rule holds.
func (t *task) ruled(a *arrangement) bool {
	_, ok := t.rests.Play(a.choice, a.given, a.filter)
	return ok
}
