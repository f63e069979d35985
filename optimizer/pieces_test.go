package optimizer

import (
	"context"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/optimizer/build"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// Pieces of the search by themselves, where a slip would cost time, words or order
// rather than the best build, which the oracles hold.

// A source is weaker than another that is better in nothing less than everything.
func TestWeakerIsBetterInNothing(t *testing.T) {
	s := amplifier.Source{OpenVoltage: 30, Resistance: 0.1, Current: 20, Efficiency: 0.7}
	if !weaker(s, s) {
		t.Error("a source is not weaker than itself")
	}
	for _, change := range []func(s *amplifier.Source, by float64){
		func(s *amplifier.Source, by float64) { s.OpenVoltage *= by }, func(s *amplifier.Source, by float64) { s.Resistance /= by },
		func(s *amplifier.Source, by float64) { s.Current *= by }, func(s *amplifier.Source, by float64) { s.Efficiency *= by },
	} {
		better, worse := s, s
		change(&better, 1.01)
		change(&worse, 0.99)
		if weaker(better, s) || !weaker(worse, s) || weaker(better, worse) || !weaker(worse, better) {
			t.Errorf("%+v and %+v beside %+v", better, worse, s)
		}
	}
}

// A tour knows which blockers other shops would sell to this customer.
func TestBlockersElsewhere(t *testing.T) {
	blocker := func(sku, store string, stock int) *catalog.Part {
		return &catalog.Part{SKU: sku, Kind: catalog.KindBlocker, Priced: true, Store: store, Stock: stock, Limit: catalog.Unlimited, Blocker: &catalog.BassBlocker{Capacitance: 1e-4}}
	}
	both := blocker("BOTH", "there", catalog.Unlimited)
	both.Offers = []catalog.Offer{{Store: "here", Stock: 1}}
	unpriced, limited := blocker("UNPRICED", "there", 1), blocker("LIMITED", "there", 1)
	unpriced.Priced, limited.Limit = false, 0
	amp := &catalog.Part{SKU: "AMP", Kind: catalog.KindAmplifier, Priced: true, Store: "there", Stock: 1, Limit: 1}
	parts := []*catalog.Part{blocker("HERE", "here", 1), blocker("THERE", "there", 2), blocker("GONE", "there", 0), blocker("UNWANTED", "there", 1), both, unpriced, limited, amp, blocker("FAR", "far", 1)}
	p := Problem{Catalogue: catalog.New("USD", parts), Brief: catalog.Brief{Never: mention("UNWANTED"), Stores: []string{"here", "there"}}}
	var skus []string
	for _, part := range newTour(&p, []string{"here"}, anyNumber).Elsewhere {
		skus = append(skus, part.SKU)
	}
	if !slices.Equal(skus, []string{"THERE"}) {
		t.Errorf("elsewhere there are %v", skus)
	}
}

// A candidate counts its pieces, which break ties.
func TestCandidatesCountTheirPieces(t *testing.T) {
	c := garage(t)
	counted := 0
	for seed := uint64(1); seed <= 12; seed++ {
		p, car := c.small(seed)
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range full.search(context.Background()).total.best {
			if counted++; b.pieces != b.parts.Pieces() {
				t.Errorf("seed %d: %d pieces of %v", seed, b.pieces, b.parts)
			}
		}
	}
	if counted < 20 {
		t.Errorf("%d candidates", counted)
	}
}

// The program for outside solvers holds nothing that another part of it beats, in the
// order of listing, and says why a rule holds once.
func TestProgramHasNothingIdle(t *testing.T) {
	c := garage(t)
	systems, ways, rows := 0, 0, 0
	for seed := uint64(1); seed <= 12; seed++ {
		p, car := c.small(seed)
		if seed%3 == 0 {
			dealt(&p, seed)
		}
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		f := &formulation{t: full, floor: build.Silent + 1, tops: map[*pricing.Item]build.Level{}, topped: map[slot][]system{}}
		f.shelve()
		f.stages()
		if err := f.tabulate(context.Background()); err != nil {
			t.Fatal(err)
		}
		if !slices.IsSortedFunc(f.systems, func(a, b system) int { return a.block - b.block }) {
			t.Errorf("seed %d: the systems are not in the order of the blocks", seed)
		}
		for i := range f.systems {
			systems++
			for j := range f.systems {
				a, b := &f.systems[i], &f.systems[j]
				if i < j && f.slotOf(a) == f.slotOf(b) && f.beats(a, b) && f.beats(b, a) {
					t.Errorf("seed %d: systems %d and %d stand in for each other", seed, i, j)
				}
			}
		}
		for i := range f.ways {
			ways++
			for j := range f.ways {
				a, b := &f.ways[i], &f.ways[j]
				if i < j && a.group() == b.group() && !a.needed && !b.needed && f.beatsWay(a, b) && f.beatsWay(b, a) {
					t.Errorf("seed %d: front stages %d and %d stand in for each other", seed, i, j)
				}
			}
		}
		for i := range f.kits {
			if len(f.kits[i].kits) == 0 {
				t.Errorf("seed %d: no kit in a class", seed)
			}
			for _, it := range f.kits[i].kits {
				for _, o := range f.kits[i].kits {
					if o != it && !it.Dealt && full.Kits[o].Capacity >= full.Kits[it].Capacity && o.List(1) <= it.List(1) {
						t.Errorf("seed %d: %s stays beside %s", seed, it.Part.SKU, o.Part.SKU)
					}
				}
			}
		}
		f.dropUndriven()
		said := map[string]bool{}
		selection := f.program()
		program := selection.Program
		for _, part := range selection.parts {
			named := slices.ContainsFunc(program.Rows, func(r linear.Row) bool { return r.Name == "buys_"+part.name })
			if want := part.item.Dealt && part.bought != absent && part.owned != absent; len(full.Deals) > 0 && named != want {
				t.Errorf("seed %d: %s, whether owned pieces come first: %t", seed, part.item.Part.SKU, named)
			}
		}
		goal := map[bool]string{false: "level is the reading", true: "level is the music level"}[full.Music()]
		if !strings.Contains(strings.Join(program.Title, "\n"), goal) {
			t.Errorf("seed %d: %q, not %q", seed, program.Title, goal)
		}
		for _, r := range program.Rows {
			if rows++; r.Note != "" && said[r.Note] {
				t.Errorf("seed %d: %q twice", seed, r.Note)
			}
			said[r.Note] = true
		}
	}
	if systems < 50 || ways < 20 || rows < 200 {
		t.Errorf("%d systems, %d front stages, %d rows: the cases say little", systems, ways, rows)
	}
}

// Beside a bass block a build has one source, and may have a pair, an amplifier for it,
// a converter and a blocker; what is not on offer is counted apart.
func TestCombinationsOnPaper(t *testing.T) {
	for seed := uint64(1); seed <= 10; seed++ {
		p, car := garage(t).small(seed)
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		s := full.search(context.Background())
		all, offered := uint64(1), uint64(1)
		for _, kind := range []catalog.Kind{catalog.KindSource, catalog.KindFront, catalog.KindAmplifier, catalog.KindConverter, catalog.KindBlocker} {
			here, there := uint64(0), uint64(0)
			for _, it := range full.Shelf.Items {
				if it.Part.Kind == kind {
					if here++; it.Most > 0 {
						there++
					}
				}
			}
			if kind != catalog.KindSource {
				here, there = here+1, there+1
			}
			all, offered = all*here, offered*there
		}
		if s.rests64 != all || s.offered != offered {
			t.Errorf("seed %d: %d, of which %d are on offer, not %d and %d", seed, s.rests64, s.offered, all, offered)
		}
	}
}

// Where the front stays, the pair that is owned is found, though others cost as little.
func TestOwnedPairIsFound(t *testing.T) {
	c := garage(t)
	found := 0
	for seed := uint64(1); seed <= 10; seed++ {
		p, car := c.small(seed)
		own := ""
		for _, part := range p.Catalogue.Parts {
			if part.Kind == catalog.KindFront {
				own, part.Price.Minor = max(own, part.SKU), 0
			}
		}
		p.Brief.Front, p.Brief.Must, p.Brief.Never, p.Brief.Owned = catalog.FrontKeep, nil, nil, mention(own)
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil || own == "" {
			continue
		}
		all := full.rests.ListSpeakers()
		if found++; len(all) != 1 || all[0].Item.Part.SKU != own {
			t.Errorf("seed %d: %d pairs, not %s alone", seed, len(all), own)
		}
	}
	if found == 0 {
		t.Error("no pair was owned")
	}
}

// The program for outside solvers is made of one set of shops, and not of what makes no
// sense.
func TestWhatIsFormulated(t *testing.T) {
	c := garage(t)
	p, _ := c.small(1)
	if s, err := Formulate(context.Background(), p, 0); err != nil || s == nil || len(s.Program.Rows) == 0 || len(s.Program.Variables) == 0 {
		t.Errorf("%v", err)
	}
	several := p
	manyShops(&several, 1)
	if !touring(&several) {
		t.Fatal("one shop")
	}
	senseless := p
	senseless.Catalogue = nil
	ended, end := context.WithCancel(context.Background())
	end()
	for name, ask := range map[string]func() (*Selection, error){
		"several shops": func() (*Selection, error) { return Formulate(context.Background(), several, 0) },
		"no catalogue":  func() (*Selection, error) { return Formulate(context.Background(), senseless, 0) },
		"an interrupt":  func() (*Selection, error) { return Formulate(ended, c.auditable(1), 0) },
	} {
		if s, err := ask(); err == nil || s != nil {
			t.Errorf("%s: a program", name)
		}
	}
}
