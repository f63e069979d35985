package advice

import (
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

func sub(sku string, mm, cutout, depth, litres float64) *catalog.Part {
	return &catalog.Part{SKU: sku, Kind: catalog.KindSubwoofer, Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited,
		Subwoofer: &catalog.Subwoofer{Card: driver.Card{Size: mm / 1000}, Cutout: cutout / 1000, Depth: depth / 1000, Displacement: litres / 1000}}
}

func boxed(sku string, mm, cutout, depth, litres float64, drivers int, cm ...float64) *catalog.Part {
	e := &catalog.Enclosure{Hole: mm / 1000, Cutout: cutout / 1000, Depth: depth / 1000, Box: enclosure.Box{Volume: litres / 1000, Drivers: drivers}}
	if len(cm) == 3 {
		e.Outside = catalog.Size3{Width: cm[0] / 100, Depth: cm[1] / 100, Height: cm[2] / 100}
	}
	return &catalog.Part{SKU: sku, Kind: catalog.KindEnclosure, Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited, Enclosure: e}
}

// TestRulesInWords: what the eye finds on card and shelf is said with its numbers,
// here worked out by hand, and what is right is not found fault with: to the tolerances
// of the search on either side.
func TestRulesInWords(t *testing.T) {
	// 10 inches are 254 mm, 12 are 304.8.
	boxes := []*catalog.Part{boxed("A", 254, 230, 140, 20, 1), boxed("B", 254, 235, 150, 30, 2), boxed("C", 304.8, 280, 0, 40, 1)}
	kit := func(metres, fuse float64) *catalog.Part {
		return &catalog.Part{SKU: "K", Kind: catalog.KindKit, Kit: &catalog.WiringKit{Area: supply.AreaOfGauge(8), Length: metres, Fuse: fuse}}
	}
	edge := sub("S", 254, 0, 0, 10)
	edge.Subwoofer.Depth, edge.Subwoofer.Cutout = boxes[1].Enclosure.Depth+build.CutTolerance, boxes[1].Enclosure.Cutout+build.CutTolerance
	for _, c := range []struct {
		name string
		part *catalog.Part
		want string // empty: nothing to say
	}{
		{"all that a jigsaw allows", edge, ""},
		{"fits", sub("S", 254, 235, 150, 10), ""},
		{"within a jigsaw", sub("S", 254, 236.9, 151.9, 10), ""},
		{"nominally the same", sub("S", 256.9, 235, 150, 10), ""},
		{"another size", sub("S", 257.1, 235, 150, 10), "no enclosure on offer has a hole for 10.1 in"},
		{"too deep", sub("S", 254, 235, 152.5, 10), "it is 152 mm deep, and the deepest of the 2 enclosures for 10 in has 150 mm behind the baffle"},
		{"too wide", sub("S", 254, 238, 150, 10), "it needs a cutout of 238 mm, and the widest of the 2 enclosures for 10 in has 235 mm"},
		{"deep where nobody says", sub("S", 304.8, 280, 900, 10), ""},
		// 20 L for one driver, 30 L for two.
		{"too large for its air", sub("S", 254, 235, 150, 20), "it takes up 20.0 L, as much as there is in any enclosure for 10 in"},
		{"hardly any air", sub("S", 254, 235, 150, 19.9), ""},

		{"a hole with its driver", boxed("X", 254, 0, 0, 20, 1), ""},
		{"a hole without one", boxed("X", 457.2, 0, 0, 20, 1), "no driver of 18 in is on offer for its hole"},
		{"more holes than allowed", boxed("X", 254, 0, 0, 20, 3), "it takes 3 drivers, and the brief allows 2"},
		{"as many as allowed", boxed("X", 254, 0, 0, 20, 2), ""},
		{"as large as the space", boxed("X", 254, 0, 0, 20, 1, 40, 90, 50), ""},
		{"turned", boxed("X", 254, 0, 0, 20, 1, 90.04, 50, 40), ""},
		{"a millimetre too wide", boxed("X", 254, 0, 0, 20, 1, 90.1, 40, 50), "it is 90 x 40 x 50 cm outside, and the space is 90 x 50 x 40 cm"},
		{"too high", boxed("X", 254, 0, 0, 20, 1, 60, 51, 41), "it is 60 x 51 x 41 cm outside, and the space is 90 x 50 x 40 cm"},
		{"not through the boot", boxed("X", 254, 0, 0, 20, 1, 48, 48, 38), "does not go through the boot's opening of 45 x 60 cm"},

		{"a loaded one", &catalog.Part{Kind: catalog.KindLoaded, Loaded: &catalog.Loaded{Outside: catalog.Size3{Width: 0.6, Depth: 0.51, Height: 0.41}}},
			"it is 60 x 51 x 41 cm outside, and the space is 90 x 50 x 40 cm"},

		{"long enough", kit(4.5, 60), "it carries 60 A, and no amplifiers"},
		{"too short", kit(4.4, 60), "its cable is 4.4 m long, and the run from the battery to the boot is 4.5 m"},
		// 8 AWG carries 65 A (ABYC E-11, from memory): a fuse of 60 A is the largest.
		{"without a fuse", kit(5, 0), "it carries 60 A, and no amplifiers"},
		{"a fuse too large", kit(5, 80), "its fuse of 80 A is larger than the 65 A that its cable carries"},
	} {
		p := optimizer.Problem{Catalogue: &catalog.Catalogue{Parts: append([]*catalog.Part{sub("D", 254, 230, 140, 2), c.part}, boxes...)},
			Brief:   catalog.Brief{Drivers: 2, Space: catalog.Size3{Width: 0.9, Depth: 0.5, Height: 0.4}},
			Vehicle: catalog.Vehicle{CableRun: 4.5}}
		if c.name == "not through the boot" {
			p.Vehicle.Boot = [2]float64{0.45, 0.6}
			c.part.Enclosure.Outside = catalog.Size3{Width: 0.48, Depth: 0.48, Height: 0.46}
			p.Brief.Space = catalog.Size3{}
		}
		var words []string
		d := &Desk{p: p}
		switch c.part.Kind {
		case catalog.KindLoaded:
			d.tooLarge(c.part, func(format string, values ...any) { words = append(words, fmt.Sprintf(format, values...)) })
		case catalog.KindSubwoofer: // not its card, which states a size only
			d.noHole(c.part, func(format string, values ...any) { words = append(words, fmt.Sprintf(format, values...)) })
		default:
			words = d.unfit(c.part)
		}
		if got := strings.Join(words, "; "); !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if build.SizeTolerance != 0.003 || build.CutTolerance != 0.002 {
		t.Error("the cases are made for other tolerances")
	}
}

// TestShelvedInWords: why a part cannot be had at all.
func TestShelvedInWords(t *testing.T) {
	d := &Desk{p: optimizer.Problem{Brief: catalog.Brief{Never: []catalog.Mention{{SKU: "N"}}, Owned: []catalog.Mention{{SKU: "O"}}, Stores: []string{"Dock", "Pier"}}}}
	for _, c := range []struct {
		part catalog.Part
		want string
	}{
		{catalog.Part{SKU: "A", Priced: true, Store: "dock", Stock: 1, Limit: 1}, ""},
		{catalog.Part{SKU: "N", Priced: true, Store: "Dock", Stock: 1, Limit: 1}, "the brief says never N"},
		{catalog.Part{SKU: "O"}, ""},
		{catalog.Part{SKU: "A", Store: "Dock", Stock: 1, Limit: 1}, "it has no price, so it can only be in a build if the customer owns it"},
		{catalog.Part{SKU: "A", Priced: true, Store: "Quay", Stock: 1, Limit: 1}, "it is sold at Quay, and the brief buys only at Dock, Pier"},
		{catalog.Part{SKU: "A", Priced: true, Stock: 1, Limit: 1}, "no store is stated for it, and the brief buys only at Dock, Pier"},
		{catalog.Part{SKU: "A", Priced: true, Store: "Pier", Stock: 0, Limit: 0}, "it is out of stock; none is sold to one customer (limit 0)"},
		{catalog.Part{SKU: "A", Kind: catalog.KindSheet, Priced: true, Store: "Pier"}, "it is what boxes are built with, not a part of a system"},
	} {
		if got := strings.Join(d.shelved(&c.part), "; "); got != c.want {
			t.Errorf("%+v: %q, want %q", c.part.SKU, got, c.want)
		}
	}
}
