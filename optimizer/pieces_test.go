package optimizer

import (
	"context"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/program"
	"loudfor/optimizer/setting"
)

// Pieces of the search by themselves, where a slip would cost time, words or order
// rather than the best build, which the oracles hold.

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
	for name, ask := range map[string]func() (*program.Selection, error){
		"several shops": func() (*program.Selection, error) { return Formulate(context.Background(), several, 0) },
		"no catalogue":  func() (*program.Selection, error) { return Formulate(context.Background(), senseless, 0) },
		"an interrupt":  func() (*program.Selection, error) { return Formulate(ended, c.auditable(1), 0) },
	} {
		if s, err := ask(); err == nil || s != nil {
			t.Errorf("%s: a program", name)
		}
	}
}
