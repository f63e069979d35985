package optimizer

import (
	"context"

	"loudfor/catalog"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// What a builder answers first: the loudest build; the cheapest that is as good
// as it; and the best by the goal that the brief does not rank by, since that
// choice (more bass, or a front that follows it) is the customer's to make.
// Each is exact. The second is the least money for a level, by the search of the first
// gone on with (least_money.go); the third is searched for beside both. All share
// the car and the completed drivers.

// Answers are the first answers to a brief.
type Answers struct {
	Result // the ranking; its first build is the loudest

	Value *Answer // the cheapest within reach of the loudest; may be the same
	Other *Answer // the best by the other goal; may be the same

	Idle []Kept // what is owned and not used by the loudest

	// Whole is false when the search was stopped: then Value and Other may be
	// missing, or not be the best, and so may what is said of Idle.
	Whole bool

	// Before is what plays in the car today: the customer's source with the
	// front speakers that are there, and no bass. Nil where the brief does not
	// say what is owned.
	Before *Front
}

// Answer is a build, with how far it is from the loudest by both goals.
type Answer struct {
	Build          Build
	Reading, Music Difference
}

// FirstAnswers is Pick with the other answers beside its ranking; the cheapest build
// is to be at most within dB below the loudest. Errors are as in Pick.
func FirstAnswers(ctx context.Context, p Problem, within float64) (Answers, error) {
	if p.Shared == nil {
		p.Shared = new(Shared)
	}
	series, err := NewSeries(p)
	if err != nil {
		return Answers{}, err
	}
	return series.Answers(ctx, p, within)
}

// Answers is the function FirstAnswers.
func (s *Series) Answers(ctx context.Context, p Problem, within float64) (a Answers, err error) {
	p.Memory = p.MostMemory() / 2 // two searches at once
	dear := p
	dear.Brief.Goal, dear.Progress = other(p.Brief.Goal), nil
	var x struct {
		build *Build
		whole bool
		err   error
	}
	beside, end := context.WithCancel(ctx)
	wait := parallel.Beside(func() { x.build, x.whole, x.err = s.First(beside, dear) })
	// Nothing is left behind, whatever comes of the first.
	defer func() { end(); wait() }()

	var found *search
	if a.Result, found, err = pickWith(ctx, p, s.in(&p)); err != nil || len(a.Builds) == 0 {
		return a, err
	}
	p.Progress = nil // of the ranking
	if a.Whole = a.Stop == StopComplete && ctx.Err() == nil; a.Whole {
		value, whole, err := s.value(ctx, p, found, &a.Builds[0], within)
		if err != nil {
			return a, err
		}
		if value != nil {
			a.Value = &Answer{Build: *value}
		}
		if wait(); x.err != nil {
			return a, x.err
		}
		if x.build != nil {
			a.Other = &Answer{Build: *x.build}
		}
		var kept bool
		if a.Idle, kept, err = s.keep(ctx, p, &a.Builds[0]); err != nil {
			return a, err
		}
		a.Whole = whole && x.whole && kept
	} else {
		a.Idle = idle(&p, &a.Builds[0])
	}
	return a, s.fill(p, dear, &a)
}

// value is the cheapest build at most within dB below the best; of those at one price
// at the till, the loudest.
func (s *Series) value(ctx context.Context, p Problem, found *search, best *Build, within float64) (b *Build, whole bool, err error) {
	if found != nil {
		return found.leastMoney(build.Round(best.Objective - within))
	}
	p.Brief.Cap = best.Cost
	builds, whole, err := s.From(ctx, p, best.Objective-within)
	for i := range builds {
		if builds[i].Cost == builds[0].Cost {
			b = &builds[i]
		}
	}
	return b, whole, err
}

// fill puts bands, differences and remarks to the answers. It hears no interrupt: a
// level without its band is half an answer.
func (s *Series) fill(p, dear Problem, a *Answers) error {
	t, err := s.bare(p)
	if err != nil {
		return err
	}
	a.Before = t.before(&p)
	if p.Bare {
		return nil
	}
	rooms, err := uncertainty.Rooms(t.Setting)
	if err != nil {
		return err
	}
	t.bandBefore(a.Before, len(rooms))
	best := &a.Builds[0]
	loudest := uncertainty.Scatter(t.Setting, best, rooms)
	others := []*Answer{a.Other, a.Value}
	for i := range a.Idle {
		others = append(others, a.Idle[i].Best)
	}
	for i, answer := range others {
		if answer == nil {
			continue
		}
		b, asked := &answer.Build, p
		if i == 0 {
			asked = dear
		}
		if err := Remark(asked, b); err != nil {
			return err
		}
		own := uncertainty.Scatter(t.Setting, b, rooms)
		own.Fill(b)
		answer.Reading = uncertainty.Apart((build.Round(b.Reading.DB) - build.Round(best.Reading.DB)).DB(), own.Reading, loudest.Reading)
		answer.Music = uncertainty.Apart((build.Round(b.Music.DB) - build.Round(best.Music.DB)).DB(), own.Music, loudest.Music)
	}
	return nil
}

// bare is the task of a problem whose builds are there already: no shelf is
// stocked.
func (s *Series) bare(p Problem) (*task, error) {
	p.Brief.Owned, p.Brief.Must, p.Brief.Never, p.Known = nil, nil, nil, nil
	p.Catalogue, p.Brief.Cap = &catalog.Catalogue{Currency: p.Catalogue.Currency}, catalog.Money{}
	return readyIn(p, setting.Relaxation{}, s.in(&p))
}

// Today is Before of the Answers by itself.
func (s *Series) Today(p Problem) (*Front, error) {
	t, err := s.bare(p)
	if err != nil {
		return nil, err
	}
	f := t.before(&p)
	rooms, err := uncertainty.Rooms(t.Setting)
	t.bandBefore(f, len(rooms))
	return f, err
}

func (t *task) bandBefore(f *Front, draws int) {
	if f != nil {
		f.Band = uncertainty.HalfWidth(uncertainty.ScatterFront(t.Setting, &Build{Front: *f}, draws))
	}
}

// before is what the owned source does with the front speakers that are in the
// car.
func (t *task) before(p *Problem) *Front {
	if t.Open {
		return nil
	}
	pair, f := completion.Speakers{Load: build.StockLoad}, Front{Power: FromSource}
	for _, m := range p.Brief.Owned {
		part := p.Catalogue.Part(m.SKU)
		switch {
		case part == nil:
		case part.Kind == catalog.KindSource && f.Source == nil:
			f.Source = part
		case part.Kind == catalog.KindFront && f.Part == nil:
			f.Part, pair = part, completion.Speakers{Item: &pricing.Item{Part: part}, Load: completion.FrontLoad(part.Front)}
		}
	}
	if f.Source == nil {
		return nil
	}
	source := f.Source.Source
	var filtered completion.HighPass
	if source.HighPass {
		filtered = completion.BuiltIn
	}
	f.Given = completion.SourcePower(source, pair.Load)
	if f.Given <= 0 {
		return nil
	}
	filtered = t.rests.Tuned(pair, f.Given, filtered)
	f.Stage = pair.Stage(f.Given, filtered.Hz, filtered.Order)
	f.DB, f.Usable, f.Limit = f.Stage.Play(t.Cabin)
	if f.HighPass = filtered.Hz; f.HighPass > 0 {
		f.HighPassBy = "the source's high-pass"
	}
	return &f
}

// other is the goal that a brief does not rank by.
func other(g catalog.Goal) catalog.Goal {
	if g == catalog.GoalMusic {
		return catalog.GoalReading
	}
	return catalog.GoalMusic
}
