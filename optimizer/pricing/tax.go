package pricing

import (
	"fmt"
	"slices"

	"loudfor/catalog"
)

// The till: taxes by kind, and labour.
//
// What is taxed at one rate is summed; each sum is taxed; the total of all is
// rounded half up, once. So the total is
//
//	round_half_up(sum of price x (1 + tax of its kind))
//
// and every piece has a weighed price, an integer of millionths of a minor unit,
// with its tax in it. The search counts in a larger unit, the greatest that all
// rates have in common: with one rate for everything that is the whole tax, a
// weighed price is the plain price, and no sum differs from one without weights.
//
// Labour for a piece is a part of that piece's price. Labour for the build is
// the same for all builds, so it is taken off the cap beforehand and put on the
// bill at the end.

// TaxTotals weighs prices and makes totals.
type TaxTotals struct {
	Unit   int64                    // millionths of a minor unit in one unit of weight
	weight [catalog.KindCount]int64 // of a minor unit of a part's price
	each   [catalog.KindCount]int64 // labour for a piece, weighed
	bought [catalog.KindCount]int64 // labour for a piece that is not owned, weighed
	Fixed  int64                    // labour for the build, weighed
	labour []catalog.Labour
	rates  []int64 // tax on each line of labour, millionths
}

func newTaxTotals(b *catalog.Brief, v *catalog.Vehicle) TaxTotals {
	t := TaxTotals{labour: catalog.LabourLines(b, v)}
	for k := range catalog.KindCount {
		t.weight[k] = Million + b.TaxOn(k)
		t.Unit = divisor(t.Unit, t.weight[k])
	}
	for i := range t.labour {
		t.rates = append(t.rates, b.TaxOnLabour(&t.labour[i]))
		t.Unit = divisor(t.Unit, Million+t.rates[i])
	}
	for k := range t.weight {
		t.weight[k] /= t.Unit
	}
	for i, l := range t.labour {
		price := weighted(l.Price.Minor, (Million+t.rates[i])/t.Unit)
		switch {
		case l.Per >= catalog.KindCount:
			t.Fixed += price
		case l.Installed:
			t.each[l.Per] += price
		default:
			t.bought[l.Per] += price
		}
	}
	return t
}

// divisor is the greatest common divisor; that of nothing and b is b.
func divisor(a, b int64) int64 {
	for a != 0 {
		a, b = b%a, a
	}
	return b
}

// weighted multiplies a price with a weight; what is beyond all cars is dearest.
func weighted(minor, weight int64) int64 {
	if minor <= 0 {
		return 0
	}
	if minor > Dearest/weight {
		return Dearest
	}
	return minor * weight
}

// Figure is the total in minor units of a sum of weighed prices.
func (t *TaxTotals) Figure(sum int64) int64 { return Taxed(sum+t.Fixed, t.Unit-Million) }

// Limit is the largest sum of weighed prices within a cap.
func (t *TaxTotals) Limit(limit catalog.Money) int64 {
	if limit == (catalog.Money{}) {
		return Boundless
	}
	return min(largestSum(limit.Minor, t.Unit-Million), Boundless) - t.Fixed
}

// LargestTax, in millionths, is ten times the price: beyond it a unit slipped.
const LargestTax = 10 * Million

// checkTill finds taxes and labour that cannot be.
func checkTill(b *catalog.Brief, v *catalog.Vehicle, currency string) (all []error) {
	rates := []int64{b.TaxPPM}
	for k := range catalog.KindCount {
		rates = append(rates, b.TaxOn(k))
	}
	for _, l := range catalog.LabourLines(b, v) {
		rates = append(rates, b.TaxOnLabour(&l))
		if l.Price.Minor < 0 {
			all = append(all, fmt.Errorf("the price of %s is negative", l.Name))
		}
		if currency != "" && l.Price.Currency != currency {
			all = append(all, fmt.Errorf("%s is in %s and the catalogue in %s", l.Name, l.Price.Currency, currency))
		}
	}
	slices.Sort(rates)
	for _, ppm := range slices.Compact(rates) {
		if ppm < 0 || ppm > LargestTax {
			all = append(all, fmt.Errorf("a tax of %g %% cannot be", float64(ppm)/1e4))
		}
	}
	return all
}

// applyPrices puts the weighed prices on the shelf.
func (t *Book) applyPrices() {
	for _, it := range t.Shelf.Items {
		k := it.Part.Kind
		it.Each = t.Tax.each[k]
		it.Full = min(weighted(it.Part.Price.Minor, t.Tax.weight[k])+t.Tax.bought[k], Dearest)
		it.price = it.Full
	}
}

// tooFine finds prices that need more digits with their taxes than there are:
// sums with them would not be exact. What no cap pays does no harm.
func (t *Book) tooFine() error {
	for _, it := range t.Shelf.Items {
		p := it.Part
		if t.Tax.weight[p.Kind] > 1 && p.Priced && it.Full >= Dearest && (t.Brief.Cap == (catalog.Money{}) || p.Price.Minor <= t.Brief.Cap.Minor) {
			return fmt.Errorf("the price of %s, %s, cannot be added up exactly with taxes of so many digits", p.SKU, p.Price)
		}
	}
	return nil
}
