package optimizer

import (
	"cmp"
	"math/bits"
	"slices"

	"loudfor/catalog"
)

// The bill of a build: deals, labour and taxes, line by line. All lines are in
// whole minor units before tax; a tax line says how much of the tax on
// everything falls on its rate.

// bill fills in what a set of parts costs.
func (t *book) bill(b *Build, parts set) {
	sums := t.bought(b, parts)
	for i, l := range t.till.labour {
		n := 0
		for _, u := range parts {
			switch {
			case u.item.part.Kind != l.Per:
			case l.Installed:
				n += u.count
			default:
				n += max(0, u.count-u.item.owned)
			}
		}
		if l.Per == catalog.KindCount {
			n = 1
		}
		if n > 0 {
			line := LabourLine{Name: l.Name, Count: n, Each: t.Money(l.Price.Minor), Cost: t.Money(int64(n) * l.Price.Minor)}
			b.Labour = append(b.Labour, line)
			sums[t.till.rates[i]] += line.Cost.Minor
		}
	}
	b.Taxes = t.taxes(sums)
	sum := t.pay(parts)
	b.Cost = t.Money(t.till.figure(sum))
	b.Due[0], b.Due[1] = bits.Mul64(uint64(max(0, sum+t.till.fixed)), uint64(t.till.unit))
}

// taxes makes tax lines of sums by rate, highest rate first.
func (t *book) taxes(sums map[int64]int64) (lines []TaxLine) {
	for ppm, sum := range sums {
		if sum != 0 {
			lines = append(lines, TaxLine{PPM: ppm, Sum: t.Money(sum)})
		}
	}
	slices.SortFunc(lines, func(a, b TaxLine) int { return cmp.Compare(b.PPM, a.PPM) })
	weighed, before := int64(0), int64(0)
	for i := range lines {
		l := &lines[i]
		weighed += weigh(l.Sum.Minor, (million+l.PPM)/t.till.unit)
		after := taxed(weighed, t.till.unit-million)
		l.Tax = t.Money(after - before - l.Sum.Minor)
		before = after
	}
	return lines
}

// lines lists a set by kind, then SKU.
func (t *book) lines(parts set) []Line {
	var lines []Line
	for _, u := range parts {
		lines = append(lines, Line{Part: u.item.part, Count: u.count, Owned: min(u.item.owned, u.count), Cost: t.Money(int64(max(0, u.count-u.item.owned)) * u.item.part.Price.Minor)})
	}
	slices.SortStableFunc(lines, func(a, b Line) int { return int(a.Part.Kind) - int(b.Part.Kind) })
	return lines
}
