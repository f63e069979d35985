package pricing

import (
	"cmp"
	"math/bits"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// The bill of a build: deals, labour and taxes, line by line. All lines are in
// whole minor units before tax; a tax line says how much of the tax on
// everything falls on its rate.

// Bill fills in what a set of parts costs.
func (t *Book) Bill(b *build.Build, parts Set) {
	sums := t.bought(b, parts)
	for i, l := range t.Tax.labour {
		n := 0
		for _, u := range parts {
			switch {
			case u.Item.Part.Kind != l.Per:
			case l.Installed:
				n += u.Count
			default:
				n += max(0, u.Count-u.Item.Owned)
			}
		}
		if l.Per == catalog.KindCount {
			n = 1
		}
		if n > 0 {
			line := build.LabourLine{Name: l.Name, Count: n, Each: t.Money(l.Price.Minor), Cost: t.Money(int64(n) * l.Price.Minor)}
			b.Labour = append(b.Labour, line)
			sums[t.Tax.rates[i]] += line.Cost.Minor
		}
	}
	b.Taxes = t.taxes(sums)
	sum := t.Exact(parts)
	b.Cost = t.Money(t.Tax.Figure(sum))
	b.Due[0], b.Due[1] = bits.Mul64(uint64(max(0, sum+t.Tax.Fixed)), uint64(t.Tax.Unit))
}

// taxes makes tax lines of sums by rate, highest rate first.
func (t *Book) taxes(sums map[int64]int64) (lines []build.TaxLine) {
	for ppm, sum := range sums {
		if sum != 0 {
			lines = append(lines, build.TaxLine{PPM: ppm, Sum: t.Money(sum)})
		}
	}
	slices.SortFunc(lines, func(a, b build.TaxLine) int { return cmp.Compare(b.PPM, a.PPM) })
	weighed, before := int64(0), int64(0)
	for i := range lines {
		l := &lines[i]
		weighed += weighted(l.Sum.Minor, (Million+l.PPM)/t.Tax.Unit)
		after := Taxed(weighed, t.Tax.Unit-Million)
		l.Tax = t.Money(after - before - l.Sum.Minor)
		before = after
	}
	return lines
}

// Lines lists a set by kind, then SKU.
func (t *Book) Lines(parts Set) []build.Line {
	var lines []build.Line
	for _, u := range parts {
		lines = append(lines, build.Line{Part: u.Item.Part, Count: u.Count, Owned: min(u.Item.Owned, u.Count), Cost: t.Money(int64(max(0, u.Count-u.Item.Owned)) * u.Item.Part.Price.Minor)})
	}
	slices.SortStableFunc(lines, func(a, b build.Line) int { return int(a.Part.Kind) - int(b.Part.Kind) })
	return lines
}
