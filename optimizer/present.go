package optimizer

// present makes the build that the caller sees of an arrangement.
func (t *task) present(a *arrangement) Build {
	whole, notes := t.Described(a.block.Driver)
	a.plan.Say()
	b := Build{
		Lines:     t.Lines(a.parts),
		Reading:   Reading{DB: a.reading.Level, Hz: a.reading.Hz, Place: t.Place(), Openings: t.Openings()},
		Music:     Music{DB: a.music, Bass: a.bassMusic, FrontLimits: a.power != FromNothing && a.front < a.bassMusic-t.Brief.BassLift},
		Plan:      a.plan,
		Operation: a.reading,
		Feed:      a.drive.Feed,
		Demand:    t.demand(a),
		Signal:    t.signal(a),
		Front:     t.presentFront(a),
		Bass: Bass{
			Driver: whole, Part: a.block.Driver.Part,
			Box: t.Setup(a.block, a.box).Box, Boxes: a.block.Boxes, Drivers: a.block.Drivers(),
			Amplifier: a.amp.Part, Amplifiers: a.number,
		},
	}
	if !a.block.Loaded() {
		b.Bass.Enclosure = a.box.Part
	}
	t.Bill(&b, a.parts)
	objective, _ := t.merits(a)
	b.Objective, b.ByMusic = objective.DB(), t.Music()
	if !t.Problem.Bare {
		b.Curve = a.prepared.Curve(a.drive, t.Reading)
		b.Assumed, b.Warnings, b.Doubts, b.Hazards = t.assumed(a, notes, a.prepared), t.warnings(a, notes), t.doubts(a, notes), t.hazards(a)
	}
	return b
}

func (t *task) presentFront(a *arrangement) Front {
	f := Front{DB: a.front, Power: a.power, Given: a.given, Usable: a.usable, Limit: a.stops}
	if a.choice.Item != nil {
		f.Part = a.choice.Item.Part
	}
	f.Stage = a.choice.Stage(a.given, a.filter.Hz, a.filter.Order)
	switch a.power {
	case FromSource:
		f.Source = a.source.Part
	case FromOwn:
		f.Amplifier = a.own.Part
	case FromBass:
		f.Amplifier = a.amp.Part
	}
	if a.power == FromNothing || a.filter.Hz == 0 {
		return f
	}
	f.HighPass = a.filter.Hz
	switch {
	case a.blocker != nil && a.filter.Order == 1:
		f.HighPassBy = "bass blocker " + a.blocker.Part.SKU
	case a.source != nil && a.source.Part.Source.HighPass:
		f.HighPassBy = "the source's high-pass"
	default:
		f.HighPassBy = "the amplifier's high-pass"
	}
	return f
}

// signal says how the signal reaches the amplifiers.
func (t *task) signal(a *arrangement) string {
	if a.source == nil {
		return "no source"
	}
	if a.source.Part.Source.PreOuts > 0 {
		if a.own != nil || a.power == FromBass {
			return "line outputs of the source, split to bass and front"
		}
		return "line outputs of the source"
	}
	if a.convert != nil {
		return "speaker wires of the source through the line converter " + a.convert.Part.SKU
	}
	if a.source.Part.Source.Channels >= 2 && a.amp.Part.Amplifier.SpeakerInput {
		return "speaker wires of the source into the amplifier's speaker-level input"
	}
	return "incomplete"
}
