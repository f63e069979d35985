package advice

import (
	"context"
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

// What the talk says about the demo is held against questions put to Pick
// itself, and against the limits that the model states.
func TestTalkAgreesWithPick(t *testing.T) {
	ctx := context.Background()
	for _, name := range []string{"250-reading", "800-music"} {
		p := demoProblem(t, name)
		p.Shared = new(optimizer.Shared)
		d, err := Ask(ctx, p)
		if err != nil {
			t.Fatal(err)
		}
		talk, err := d.Talk(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		p.Top, p.Bare = 1, true
		pick := func(p optimizer.Problem) *optimizer.Build {
			r, err := optimizer.Pick(ctx, p)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Builds) == 0 {
				return nil
			}
			return &r.Builds[0]
		}
		best := pick(p)
		if !best.Same(d.Best()) || best.Cost != d.Best().Cost {
			t.Fatalf("%s: another best build", name)
		}
		for _, c := range talk.Changes {
			q := p
			q.Brief.Cap.Minor += c.Extra.Minor
			if b := pick(q); !b.Same(&c.Build) || c.Nothing != (b.Objective == best.Objective) {
				t.Errorf("%s: with %s more another build", name, c.Extra)
			}
		}
		if n := talk.Next; n != nil {
			q := p
			q.Brief.Cap.Minor += n.Extra.Minor
			if b := pick(q); !b.Same(&n.Build) {
				t.Errorf("%s: %s more is not the next step", name, n.Extra)
			}
			q.Brief.Cap.Minor--
			if b := pick(q); b.Objective > best.Objective {
				t.Errorf("%s: less than %s more is enough", name, n.Extra)
			}
		}
		others := 0 // that are not bought
		for _, r := range talk.Ranges {
			if !r.In {
				others++
			} else if others > 0 {
				t.Errorf("%s: %s, which is bought, stands behind what is not", name, r.Part.SKU)
			}
		}
		if others == 0 || others == len(talk.Ranges) {
			t.Errorf("%s: %d of %d ranges are of parts not bought", name, others, len(talk.Ranges))
		}
		for _, r := range talk.Roles {
			q := p
			q.Brief.Never = append(slices.Clone(q.Brief.Never), catalog.Mention{SKU: r.Part.SKU, Count: 1})
			b := pick(q)
			if (b == nil) != (r.Without == nil) || b != nil && !b.Same(&r.Without.Build) {
				t.Errorf("%s: another build without %s", name, r.Part.SKU)
			}
			if r.Cheaper == nil {
				if r.Instead != nil {
					t.Errorf("%s: %s for %s, and no build with it", name, r.Instead.SKU, r.Part.SKU)
				}
				continue
			}
			if r.Cheaper.Cost.Minor >= 0 || r.Instead.Price.Minor >= r.Part.Price.Minor || r.Cheaper.Build.Holds(r.Part.SKU) > 0 || r.Cheaper.Build.Holds(r.Instead.SKU) == 0 {
				t.Errorf("%s: %s for %s: %+v", name, r.Instead.SKU, r.Part.SKU, r.Cheaper.Cost)
			}
			for _, line := range r.Cheaper.Build.Lines {
				if line.Part.SKU != r.Instead.SKU && best.Holds(line.Part.SKU) == 0 {
					t.Errorf("%s: %s comes with %s", name, line.Part.SKU, r.Instead.SKU)
				}
			}
			// Only a search with nothing but the parts of the build can see
			// that nothing between the two would have done.
			if r.Cheaper.Build.Objective > best.Objective {
				t.Errorf("%s: louder with %s", name, r.Instead.SKU)
			}
		}
	}
}

// A build in which money is wasted is found out: a cable far heavier than
// needed has to be in the best one, and a lighter one loses nothing that a meter
// shows.
func TestWasteIsFound(t *testing.T) {
	ctx := context.Background()
	p := demoProblem(t, "800-music")
	d, err := Ask(ctx, p)
	if err != nil {
		t.Fatal(err)
	}
	// A second kit as good as that of the build but for its price and a
	// thousandth of its resistance.
	best := d.Best()
	at := slices.IndexFunc(best.Lines, func(l optimizer.Line) bool { return l.Part.Kind == catalog.KindAmplifier })
	gilded := *best.Lines[at].Part
	gilded.SKU += "-GILDED"
	amp := *gilded.Amplifier
	amp.Spec.Ratings = slices.Clone(amp.Spec.Ratings)
	for i := range amp.Spec.Ratings {
		amp.Spec.Ratings[i].Watts *= 1.004
	}
	gilded.Amplifier = &amp
	gilded.Price.Minor += 5_000
	shelf := *p.Catalogue
	shelf.Parts = append(slices.Clone(shelf.Parts), &gilded)
	p.Catalogue, p.Brief.Goal, p.Brief.Front = &shelf, catalog.GoalReading, catalog.FrontKeep
	p.Brief.Must = []catalog.Mention{{SKU: gilded.SKU, Count: 1}}
	if d, err = Ask(ctx, p); err != nil || d.Best() == nil {
		t.Fatal(err, d.Result.Outcome)
	}
	d.p.Brief.Must = nil // the talk is about what could be saved
	wastes, err := d.wastes(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range wastes {
		if w.Cost.Minor >= 0 || w.Difference.DB <= -Unheard {
			t.Errorf("%v: %+v %s", w.Part, w.Difference, w.Cost)
		}
		if w.Part != nil && w.Part.SKU == gilded.SKU {
			return
		}
	}
	t.Errorf("nothing is said of %s: %d wastes", gilded.SKU, len(wastes))
}

// The margins are what the model says: at the frequency of the peak, a limit by
// itself is never below all limits together, and the binding one by itself gives
// no more than what it allows now.
func TestMarginsHold(t *testing.T) {
	ctx := context.Background()
	for _, name := range []string{"250-reading", "800-music", "1500-one-shop"} {
		d, err := Ask(ctx, demoProblem(t, name))
		if err != nil {
			t.Fatal(err)
		}
		l, err := d.limits(d.Best())
		if err != nil {
			t.Fatal(err)
		}
		p, drive, reading, err := d.series.Chain(d.p, d.Best())
		if err != nil {
			t.Fatal(err)
		}
		if now := p.Loudest(drive, reading); math.Abs(now.Level-d.Best().Reading.DB) > 1e-6 || now.Limit != l.Binding {
			t.Errorf("%s: the chain gives %.3f dB by %s", name, now.Level, now.Limit)
		}
		if l.Gain < 0 || l.Lifted.Limit == l.Binding && l.Binding != bass.LimitTravel {
			t.Errorf("%s: %+v", name, l.Lifted)
		}
		if len(l.Margins) < 4 {
			t.Errorf("%s: %d margins", name, len(l.Margins))
		}
		for _, m := range l.Margins {
			if m.Limit == l.Binding || m.DB < 0 || math.IsInf(m.DB, 0) || math.IsNaN(m.DB) {
				t.Errorf("%s: %+v", name, m)
			}
		}
		// With the binding limit lifted the next one is the one with the least
		// left, wherever lifting leaves the frequency as it is.
		if l.Lifted.Hz == l.Hz {
			least := slices.MinFunc(l.Margins, func(a, b Margin) int { return int(math.Copysign(1, a.DB-b.DB)) })
			if l.Gain > least.DB+1e-3 {
				t.Errorf("%s: %.3f dB gained, and only %.3f left of %s", name, l.Gain, least.DB, least.Limit)
			}
		}
	}
}

// Round sums for any cap.
func TestExtras(t *testing.T) {
	for _, c := range []struct {
		limit int64
		want  []int64
	}{
		{25000, []int64{2500, 5000, 10000, 20000}},
		{50000, []int64{5000, 10000, 20000, 40000}},
		{80000, []int64{5000, 10000, 20000, 40000}},
		{150000, []int64{10000, 20000, 40000, 80000}},
		{9, nil},
	} {
		var got []int64
		for _, m := range Extras(catalog.Money{Minor: c.limit, Currency: "USD"}) {
			got = append(got, m.Minor)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%d: %v, want %v", c.limit, got, c.want)
		}
	}
}
