package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
)

// spoils are more ways of spoiling a build, each by the words of what is then wrong;
// false where this build has nothing of the kind. Parts are changed in copies, which
// are not in the catalogue either.
var spoils = map[string]func(p *Problem, b *Build) bool{
	"is not of the hole's size": func(_ *Problem, b *Build) bool {
		return spoilPart(b, b.Bass.Enclosure, func(q *catalog.Part) { q.Enclosure.Hole += 0.02 })
	},
	"does not go into the hole": func(_ *Problem, b *Build) bool {
		return spoilPart(b, b.Bass.Enclosure, func(q *catalog.Part) { q.Enclosure.Depth = 0.01 }) &&
			b.Bass.Part.Subwoofer.Depth > 0.02
	},
	"do not agree": func(_ *Problem, b *Build) bool { b.Bass.Drivers *= 2; b.Bass.Boxes *= 3; return true },
	"boxes are too many": func(p *Problem, b *Build) bool {
		p.Brief.Boxes = b.Bass.Boxes - 1
		return p.Brief.Boxes > 0
	},
	"bass amplifiers are too many": func(p *Problem, b *Build) bool {
		p.Brief.Amplifiers = b.Bass.Amplifiers - 1
		return p.Brief.Amplifiers > 0
	},
	"has no price": func(p *Problem, b *Build) bool {
		p.Brief.Owned = nil
		return spoilPart(b, b.Bass.Amplifier, func(q *catalog.Part) { q.Priced = false })
	},
	"cannot be bought": func(p *Problem, b *Build) bool {
		p.Brief.Owned = nil
		return spoilPart(b, b.Bass.Amplifier, func(q *catalog.Part) { q.Stock, q.Limit = b.Bass.Amplifiers-1, catalog.Unlimited })
	},
	"be bought": func(p *Problem, b *Build) bool { // by its limit
		p.Brief.Owned = nil
		return spoilPart(b, b.Bass.Amplifier, func(q *catalog.Part) { q.Stock, q.Limit = catalog.Unlimited, b.Bass.Amplifiers-1 })
	},
	"is in another store": func(p *Problem, _ *Build) bool { p.Brief.Owned, p.Brief.Stores = nil, []string{"nowhere"}; return true },
	"the bill does not add up": func(_ *Problem, b *Build) bool {
		b.Lines[0].Cost.Minor++
		return true
	},
	"the front speakers should have stayed": func(p *Problem, b *Build) bool {
		p.Brief.Front, p.Brief.Owned = catalog.FrontKeep, nil
		return b.Front.Part != nil
	},
	"new front speakers are missing": func(p *Problem, b *Build) bool {
		p.Brief.Front, b.Front.Part = catalog.FrontReplace, nil
		return true
	},
	"the front uses": func(p *Problem, b *Build) bool {
		p.Brief.FrontWatts, p.Brief.Owned = b.Front.Usable*1.1+1, nil
		return b.Front.Part != nil
	},
	"the kit does not carry": func(_ *Problem, b *Build) bool {
		return spoilPart(b, lineOf(b, catalog.KindKit), func(q *catalog.Part) { q.Kit.Area /= 100 })
	},
	"channels are more than there are": func(_ *Problem, b *Build) bool {
		return spoilPart(b, b.Bass.Amplifier, func(q *catalog.Part) { q.Amplifier.Spec.Channels = 0 })
	},
	"no channels are left over": func(_ *Problem, b *Build) bool {
		b.Front.Power = FromBass
		return b.Bass.Amplifier.Amplifier.Spec.Channels < 3 && b.Plan.Mode != amplifier.Mono
	},
	"the source has nothing": func(_ *Problem, b *Build) bool {
		return spoilPart(b, lineOf(b, catalog.KindSource), func(q *catalog.Part) { q.Source.PreOuts, q.Source.Channels = 0, 0 })
	},
	"the signal does not reach": func(_ *Problem, b *Build) bool {
		b.Lines = slices.DeleteFunc(b.Lines, func(l Line) bool { return l.Part.Kind == catalog.KindConverter })
		spoilPart(b, b.Bass.Amplifier, func(q *catalog.Part) { q.Amplifier.SpeakerInput = false })
		return spoilPart(b, lineOf(b, catalog.KindSource), func(q *catalog.Part) { q.Source.PreOuts = 0 })
	},
}

func lineOf(b *Build, kind catalog.Kind) *catalog.Part {
	for _, l := range b.Lines {
		if l.Part.Kind == kind {
			return l.Part
		}
	}
	return nil
}

// spoilPart puts a changed copy of a part in the place of it; false if there is none.
func spoilPart(b *Build, part *catalog.Part, change func(*catalog.Part)) bool {
	if part == nil {
		return false
	}
	q := *part
	q.Enclosure, q.Amplifier, q.Kit, q.Source = copied(q.Enclosure), copied(q.Amplifier), copied(q.Kit), copied(q.Source)
	change(&q)
	for i := range b.Lines {
		if b.Lines[i].Part == part {
			b.Lines[i].Part = &q
		}
	}
	for _, at := range []**catalog.Part{&b.Bass.Part, &b.Bass.Enclosure, &b.Bass.Amplifier} {
		if *at == part {
			*at = &q
		}
	}
	return true
}

func copied[T any](x *T) *T {
	if x == nil {
		return nil
	}
	y := *x
	return &y
}
