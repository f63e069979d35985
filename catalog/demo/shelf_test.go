package demo

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/enclosure"
)

// shelves reads the embedded parts, which have to be without any problem that
// the reader can see.
func shelves(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, report := catalog.LoadFS(FS, []string{Parts})
	clean(t, report)
	if c == nil {
		t.Fatal("the demo parts cannot be read")
	}
	return c
}

// TestShelf holds what makes the demo worth trying: enough of everything that
// a shop has, and one at least of everything that makes choosing hard.
func TestShelf(t *testing.T) {
	c := shelves(t)
	coils := func(p *catalog.Part) string {
		if p.Subwoofer == nil {
			return ""
		}
		return strconv.Itoa(p.Subwoofer.Card.Coils) + " x " + strconv.Itoa(int(p.Subwoofer.Card.CoilLoad))
	}
	hole := func(drivers int, inches float64, kind enclosure.Kind) func(*catalog.Part) bool {
		return func(p *catalog.Part) bool {
			e := p.Enclosure
			return e != nil && e.Box.Drivers == drivers && near(e.Hole, inches*0.0254) && e.Box.Kind == kind
		}
	}
	amp := func(ok func(*catalog.Amplifier) bool) func(*catalog.Part) bool {
		return func(p *catalog.Part) bool { return p.Amplifier != nil && ok(p.Amplifier) }
	}
	price := func(from, to int64) func(*catalog.Part) bool {
		return func(p *catalog.Part) bool { return p.Priced && p.Price.Minor >= from*100 && p.Price.Minor < to*100 }
	}
	kind := func(k catalog.Kind) func(*catalog.Part) bool {
		return func(p *catalog.Part) bool { return p.Kind == k }
	}
	tests := []struct {
		what  string
		least int
		is    func(*catalog.Part) bool
	}{
		{"parts", 60, func(*catalog.Part) bool { return true }},
		{"subwoofers", 15, kind(catalog.KindSubwoofer)},
		{"amplifiers", 12, kind(catalog.KindAmplifier)},
		{"enclosures", 15, kind(catalog.KindEnclosure)},
		{"loaded enclosures", 5, kind(catalog.KindLoaded)},
		{"front speakers", 8, kind(catalog.KindFront)},
		{"sources", 4, kind(catalog.KindSource)},
		{"line converters", 3, kind(catalog.KindConverter)},
		{"bass blockers", 3, kind(catalog.KindBlocker)},
		{"wiring kits", 5, kind(catalog.KindKit)},
		{"sheets, large and small", 3, kind(catalog.KindSheet)},
		{"workshops", 1, kind(catalog.KindWorkshop)},

		{"price band below 60", 20, price(0, 60)},
		{"price band of 60 to 150", 20, price(60, 150)},
		{"price band from 150", 10, price(150, 1000)},

		{"one coil of 4 ohm", 1, func(p *catalog.Part) bool { return coils(p) == "1 x 4" }},
		{"one coil of 2 ohm", 1, func(p *catalog.Part) bool { return coils(p) == "1 x 2" }},
		{"two coils of 4 ohm", 1, func(p *catalog.Part) bool { return coils(p) == "2 x 4" }},
		{"two coils of 2 ohm", 1, func(p *catalog.Part) bool { return coils(p) == "2 x 2" }},
		{"subwoofers whose piston area nobody states", 3, func(p *catalog.Part) bool {
			return p.Subwoofer != nil && p.Subwoofer.Card.Sd == 0
		}},
		{"subwoofers with a full card", 3, func(p *catalog.Part) bool {
			return p.Subwoofer != nil && p.Subwoofer.Card.Bl > 0 && p.Subwoofer.Card.Mms > 0 && p.Subwoofer.Card.Vas > 0
		}},

		{"mono amplifiers", 3, amp(func(a *catalog.Amplifier) bool { return a.Spec.Channels == 1 })},
		{"two-channel amplifiers", 3, amp(func(a *catalog.Amplifier) bool { return a.Spec.Channels == 2 })},
		{"four-channel amplifiers", 3, amp(func(a *catalog.Amplifier) bool { return a.Spec.Channels == 4 })},
		{"amplifiers with one rating", 1, amp(func(a *catalog.Amplifier) bool { return len(a.Spec.Ratings) == 1 })},
		{"amplifiers that take speaker wires", 1, amp(func(a *catalog.Amplifier) bool { return a.SpeakerInput })},
		{"amplifiers whose channels may be paralleled", 1, amp(func(a *catalog.Amplifier) bool {
			return slices.Contains(a.Spec.Modes(), amplifier.Paralleled)
		})},

		{"sealed, one 8-inch", 1, hole(1, 8, enclosure.Sealed)},
		{"sealed, one 10-inch", 1, hole(1, 10, enclosure.Sealed)},
		{"sealed, one 12-inch", 1, hole(1, 12, enclosure.Sealed)},
		{"sealed, one 15-inch", 1, hole(1, 15, enclosure.Sealed)},
		{"sealed, two 12-inch", 1, hole(2, 12, enclosure.Sealed)},
		{"vented, one 8-inch", 1, hole(1, 8, enclosure.Vented)},
		{"vented, one 10-inch", 1, hole(1, 10, enclosure.Vented)},
		{"vented, one 12-inch", 1, hole(1, 12, enclosure.Vented)},
		{"vented, one 15-inch", 1, hole(1, 15, enclosure.Vented)},
		{"vented, two 12-inch", 1, hole(2, 12, enclosure.Vented)},
		{"band-pass, one 10-inch", 1, hole(1, 10, enclosure.BandPass)},
		{"band-pass, one 12-inch", 1, hole(1, 12, enclosure.BandPass)},
		{"band-pass, two 12-inch", 1, hole(2, 12, enclosure.BandPass)},
		{"boxes with a stated tuning only", 1, func(p *catalog.Part) bool {
			return p.Enclosure != nil && p.Enclosure.Box.Tuning > 0
		}},
		{"boxes with a slot", 1, func(p *catalog.Part) bool { return p.Enclosure != nil && p.Enclosure.Box.Port.Width > 0 }},
		{"loaded with two drivers", 1, func(p *catalog.Part) bool { return p.Loaded != nil && p.Loaded.Box.Drivers == 2 }},

		{"4-inch pairs", 2, front(4)}, {"5.25-inch pairs", 2, front(5.25)}, {"6.5-inch pairs", 2, front(6.5)},
		{"pairs of unstated sensitivity", 1, func(p *catalog.Part) bool { return p.Front != nil && p.Front.Sensitivity == 0 }},

		{"sources that can only be owned", 1, func(p *catalog.Part) bool { return p.Source != nil && !p.Priced }},
		{"sources without line outputs", 1, func(p *catalog.Part) bool { return p.Source != nil && p.Source.PreOuts == 0 }},
		{"sources with a high-pass", 1, func(p *catalog.Part) bool { return p.Source != nil && p.Source.HighPass }},
		{"sources without a high-pass", 1, func(p *catalog.Part) bool { return p.Source != nil && !p.Source.HighPass }},
		{"sources whose power is a claim", 1, func(p *catalog.Part) bool { return p.Source != nil && p.Source.PowerClaimed }},

		{"kits of copper-clad aluminium", 1, func(p *catalog.Part) bool { return p.Kit != nil && p.Kit.CopperClad }},
		{"kits of copper", 1, func(p *catalog.Part) bool { return p.Kit != nil && !p.Kit.CopperClad }},
		{"parts that are sold out", 1, func(p *catalog.Part) bool { return p.Stock == 0 }},
		{"parts of which one is left", 1, func(p *catalog.Part) bool { return p.Stock == 1 }},
		{"parts with a limit for each customer", 1, func(p *catalog.Part) bool { return p.Limit > 0 }},
		{"clearance prices", 1, func(p *catalog.Part) bool { return strings.HasPrefix(p.Note, "was ") }},
	}
	for _, test := range tests {
		n := 0
		for _, p := range c.Parts {
			if test.is(p) {
				n++
			}
		}
		if n < test.least {
			t.Errorf("%s: %d, want %d at least", test.what, n, test.least)
		}
	}
}

// TestMakersAndShops holds the number of makers and shops; a slip in one part
// would make a fifth or a third.
func TestMakersAndShops(t *testing.T) {
	var makers, shops []string
	for _, p := range shelves(t).Parts {
		if p.Maker != "" && !slices.Contains(makers, p.Maker) {
			makers = append(makers, p.Maker)
		}
		if p.Store != "" && !slices.Contains(shops, p.Store) {
			shops = append(shops, p.Store)
		}
		if p.Priced && (p.Maker == "" || p.Store == "") {
			t.Errorf("%s is for sale, but of no maker or at no shop", p.SKU)
		}
	}
	if len(makers) != 4 {
		t.Errorf("makers: %v, want four", makers)
	}
	if len(shops) != 2 {
		t.Errorf("shops: %v, want two", shops)
	}
}

func front(inches float64) func(*catalog.Part) bool {
	return func(p *catalog.Part) bool { return p.Front != nil && near(p.Front.Size, inches*0.0254) }
}

// near compares lengths in m that are written in millimetres or inches.
func near(a, b float64) bool { return a-b < 1e-4 && b-a < 1e-4 }
