package advice

import (
	"cmp"
	"context"
	"slices"
	"sort"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Break prices: between which prices of one part, all other prices kept, the
// best build stays the same.
//
// A price here is that of one piece before tax, as the price list has it, in
// whole minor units. No level depends on a price; prices only decide what is
// within the cap and which of two builds of one level comes first.
//
// Let B be the best build now, at the part's price c, and D another build. Let
// x be a price of the part. What a build costs never falls when x rises, since
// every way of paying for it costs no less.
//
//   - D is louder than B. D is above the cap at c, else it were best. It comes
//     first exactly at those x at which it is within the cap: from nothing up to
//     some price below c, or at none. Above c never.
//   - D is as loud as B. At most one of the two gets ahead of the other as x
//     rises: the one that buys fewer pieces of the part. So D comes first from
//     some price below c down, or from some price above c up, or never.
//   - D is quieter. It comes first only when B is above the cap: above c.
//
// So B is best on one interval around c. Its lower end is the highest price
// below c at which some D comes first, and one minor unit more. Its upper end is
// where B leaves the cap, or one minor unit below the lowest price above c at
// which a D as loud comes first.
//
// Going down, the search begins at x = 0 (no price is more favourable to the
// builds that could come first below c) and looks for all that reach B's level.
// For each D that beats B there, the highest price t(D) at which it still does
// is worked out from the two bills alone, by halving. Only builds that buy the
// part need be looked for: one that does not costs the same at every x, and is
// behind B already. At the largest t + 1 none of these D beats B; the search is
// asked again there, and finds B, and then the end is proved, or a D not seen
// before, with a larger t. Each round settles at least one build for good and
// there are finitely many; in practice there are two or three rounds, because a
// round finds the cheapest builds of every level, not only the loudest. Going up
// is the same from where B leaves the cap.
//
// Taxes, rounding at the till, labour, owned pieces, stock and limits are in the
// bills and in the search, exactly, and so are trips and the prices of other shops,
// where shops have to be chosen. Deals bend what a build costs over x, and so does
// another shop that sells the part: two builds of one level (to 0.001 dB) can then
// change places more than once, and where the parts of a set bear different
// taxes its bill can even fall as x rises. In these cases the ends found are
// true (B is best there and not one unit further), but another change can lie
// beyond them; in all others there is none.

// Range is between which prices of a part the best build stays as it is.
type Range struct {
	Part  *catalog.Part
	In    bool // it is bought for the best build
	Price catalog.Money

	// Least and Most are the ends, both belonging to it. Free says that there
	// is no lower end: not even as a gift would it change the build. Open says
	// that there is no upper one.
	Least, Most catalog.Money
	Free, Open  bool

	Below *optimizer.Build // the best build one minor unit below Least; nil if Free
	// Above is the best one minor unit above Most; nil if Open, or if nothing
	// can be built then: Dead.
	Above *optimizer.Build
	Dead  bool
}

// mostPieces is more than any build has.
const mostPieces = 100

// dearest is a price so high that nothing changes beyond it: the part alone
// costs more than the cap, and more than all other pieces of any build and the
// trips to their shops.
func (d *Desk) dearest() int64 {
	var most int64
	for _, part := range d.p.Catalogue.Parts {
		most = max(most, part.Price.Minor)
		for _, o := range part.Offers {
			most = max(most, o.Price.Minor)
		}
	}
	for _, s := range d.p.Catalogue.Shops {
		most = max(most, s.Trip.Minor)
	}
	for _, l := range catalog.LabourLines(&d.p.Brief, &d.p.Vehicle) {
		most = max(most, l.Price.Minor)
	}
	return max(mostPieces*most, d.p.Brief.Cap.Minor) + 1
}

// at is the problem with another price of one part.
func (d *Desk) at(sku string, minor int64) optimizer.Problem {
	p := d.p
	shelf := *p.Catalogue
	shelf.Parts = slices.Clone(shelf.Parts)
	for i, part := range shelf.Parts {
		if part.SKU == sku {
			priced := *part
			priced.Price.Minor = minor
			shelf.Parts[i] = &priced
		}
	}
	p.Catalogue = &shelf
	return p
}

// Range finds the interval of a part's price. The part must have a price.
func (d *Desk) Range(ctx context.Context, sku string) (Range, error) {
	part := d.bySKU[sku]
	r := Range{Part: part, In: d.Best().Bought(sku) > 0, Price: part.Price}
	money := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: part.Price.Currency} }
	least, err := d.end(ctx, sku, 0, part.Price.Minor)
	if err != nil {
		return r, err
	}
	r.Least, r.Free = money(least), least == 0
	if !r.Free {
		below := d.at(sku, least-1)
		below.With = sku // see end
		if r.Below, err = d.first(ctx, below); err != nil {
			return r, err
		}
	}
	if !r.In {
		r.Open = true // it can only get dearer for the others
		return r, nil
	}
	most, err := d.leaves(sku)
	if err != nil {
		return r, err
	}
	if most, err = d.end(ctx, sku, most, part.Price.Minor); err != nil {
		return r, err
	}
	if r.Most, r.Open = money(most), most >= d.dearest(); r.Open {
		return r, nil
	}
	r.Above, err = d.first(ctx, d.at(sku, most+1))
	r.Dead = r.Above == nil
	return r, err
}

// leaves is the highest price at which the best build is within the cap.
func (d *Desk) leaves(sku string) (int64, error) {
	var fault error
	now := d.bySKU[sku].Price.Minor
	n := sort.Search(int(d.dearest()-now), func(n int) bool {
		s, err := optimizer.StandOf(d.Best(), d.at(sku, now+int64(n)+1))
		if err != nil {
			fault = err
		}
		return err != nil || !s.Within
	})
	return now + int64(n), fault
}

// end finds how far from the price now towards another, by which the best
// build is within the cap, it stays the best.
func (d *Desk) end(ctx context.Context, sku string, far, now int64) (int64, error) {
	best := d.Best()
	for far != now {
		p := d.at(sku, far)
		if far < now {
			p.With = sku // whatever comes first down there buys it
		}
		first, err := d.first(ctx, p)
		if err != nil || first == nil {
			return far, err
		}
		nearest, ahead, err := d.overtakes(sku, first, far, now)
		if err != nil || !ahead {
			return far, err
		}
		var builds []optimizer.Build
		if far < now {
			if builds, err = d.from(ctx, p, best.Objective); err != nil {
				return 0, err
			}
		}
		for i := range builds {
			t, ahead, err := d.overtakes(sku, &builds[i], far, now)
			if err != nil {
				return 0, err
			}
			if ahead {
				nearest = max(nearest, t)
			}
		}
		far = nearest
	}
	return now, nil
}

// overtakes finds the price nearest to now at which the best build is ahead of
// another that is ahead of it at far; ahead is false if that is not so.
func (d *Desk) overtakes(sku string, b *optimizer.Build, far, now int64) (at int64, ahead bool, err error) {
	best := d.Best()
	if b.Same(best) {
		return 0, false, nil
	}
	beats := func(price int64) bool {
		p := d.at(sku, price)
		x, errX := optimizer.StandOf(b, p)
		y, errY := optimizer.StandOf(best, p)
		if err = cmp.Or(err, errX, errY); err != nil {
			return false
		}
		return x.Ahead(&y)
	}
	if !beats(far) || err != nil {
		return 0, false, err
	}
	step := int64(1)
	if now < far {
		step = -1
	}
	n := sort.Search(int((now-far)*step), func(n int) bool { return !beats(far + step*int64(n)) })
	return far + step*int64(n), true, err
}
