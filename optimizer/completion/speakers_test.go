package completion

import (
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/optimizer/pricing"
)

// What a head unit gives a side, by hand: its watts by the ohms they are rated into, no
// more than its supply allows, and nothing below the load it may drive.
func TestSourcePower(t *testing.T) {
	for _, c := range []struct {
		s    catalog.Source
		load float64
		want float64
	}{
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 4, 5},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 8, 2.5},
		{catalog.Source{Channels: 4, Power: 5}, 4, 5},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 3.97, 5 * 4 / 3.97},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 3.9, 0},
		{catalog.Source{Channels: 4, Power: 5, Load: 4, MinimumLoad: 2}, 2, 10},
		{catalog.Source{Channels: 4, Power: 5, Load: 4, MinimumLoad: 2}, 1.9, 0},
		{catalog.Source{Channels: 1, Power: 5, Load: 4}, 4, 0},
		{catalog.Source{Channels: 2, Power: 5, Load: 4}, 4, 5},
		{catalog.Source{Channels: 4, Power: 500, Load: 4}, 4, front.HeadUnitCeiling(14.4, 4, 4)},
		{catalog.Source{Channels: 4, Load: 4}, 4, front.HeadUnitCeiling(14.4, 4, 4)},
		{catalog.Source{Channels: 4, Load: 4, SupplyVolts: 13}, 4, front.HeadUnitCeiling(13, 4, 4)},
	} {
		if got := SourcePower(&c.s, c.load); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v into %g ohm: %g W, want %g W", c.s, c.load, got, c.want)
		}
	}
}

// 100 uF before 4 ohm are a first order from 398 Hz on: 1/(2 pi R C).
func TestBlockerFilter(t *testing.T) {
	if f := BlockerHighPass(&catalog.BassBlocker{Capacitance: 100e-6}, 4); math.Abs(f.Hz-397.887) > 1e-3 || f.Order != 1 || f.free {
		t.Errorf("%+v", f)
	}
	if f := BlockerHighPass(&catalog.BassBlocker{}, 4); f != (HighPass{}) {
		t.Errorf("%+v of a blocker without capacitors", f)
	}
}

// What a filter can be, by hand: a blocker is one thing alone, beside a built-in filter
// itself or each setting above it; a built-in filter alone is each setting.
func TestWhatAFilterCanBe(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     HighPass
		want  []HighPass // the lowest of them
		other int        // above those, one each step
	}{
		{"none", HighPass{}, []HighPass{{}}, 0},
		{"a blocker", HighPass{Hz: 398, Order: 1}, []HighPass{{Hz: 398, Order: 1}}, 0},
		{"built in", BuiltIn, []HighPass{{Hz: 50}, {Hz: 60}}, 19},
		{"both", HighPass{Hz: 100, Order: 1}.Beside(), []HighPass{{Hz: 100, Order: 1}, {Hz: 110}}, 14},
		{"a blocker above every setting", HighPass{Hz: 398, Order: 1}.Beside(), []HighPass{{Hz: 398, Order: 1}}, 0},
	} {
		var got []HighPass
		c.f.each(func(f HighPass) { got = append(got, f) })
		if len(got) != len(c.want)+c.other || !slices.Equal(got[:len(c.want)], c.want) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// fakeItem fills a slot for some price.
type fakeItem struct {
	lower, list, marginal int64
	at                    int
}

func (f fakeItem) Lower(n int) int64             { return int64(n) * f.lower }
func (f fakeItem) List(n int) int64              { return int64(n) * f.list }
func (f fakeItem) Marginal() int64               { return f.marginal }
func (f fakeItem) place() int                    { return f.at }
func (f fakeItem) unsure() (*pricing.Item, bool) { return nil, true }

// What is left out stands behind as many as asked for whose full price is below what it
// is worth with every deal; at the same price the one that comes first.
func TestDeepGoesByFullPrices(t *testing.T) {
	any := func(q, p fakeItem) bool { return true }
	for _, c := range []struct {
		name  string
		items []fakeItem
		depth int
		want  int // how many stay
	}{
		{"one behind another", []fakeItem{{1, 1, 1, 0}, {5, 5, 5, 1}}, 1, 1},
		{"two deep", []fakeItem{{1, 1, 1, 0}, {5, 5, 5, 1}, {6, 6, 6, 2}}, 2, 2},
		{"cheaper with a deal only", []fakeItem{{1, 10, 1, 0}, {5, 5, 5, 1}}, 1, 2},
		{"worth less with a deal", []fakeItem{{4, 4, 4, 0}, {5, 5, 3, 1}}, 1, 2},
		{"as dear, and first", []fakeItem{{5, 5, 5, 0}, {5, 5, 5, 1}}, 1, 1},
		{"as dear, and not first", []fakeItem{{5, 5, 5, 2}, {5, 5, 5, 1}}, 1, 2},
	} {
		if got := undominated(c.items, c.depth, any); len(got) != c.want {
			t.Errorf("%s: %v stay, want %d", c.name, got, c.want)
		}
	}
	if got := undominated([]fakeItem{{1, 1, 1, 0}, {5, 5, 5, 1}}, 1, func(q, p fakeItem) bool { return false }); len(got) != 2 {
		t.Errorf("%v stay where none replaces another", got)
	}
}

func TestAmple(t *testing.T) {
	for sum := range int64(5000) {
		if got := Ample(sum); got < sum || got > sum+sum/4 {
			t.Errorf("%d rounded up to %d", sum, got)
		}
	}
}
