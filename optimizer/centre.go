package optimizer

import (
	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// The answer of a shop from the ranking of its chain.
//
// A chain's shops sell what its centre lists, some of it dearer or out of stock. The
// lemma in reprice.go settles such a shop where the centre's best build buys nothing
// that differs. The same argument goes down the whole ranking:
//
// Let B1, B2, ... be the best builds at the centre, in the stated order, all that come
// before the last of them included; let the shop differ from the centre in changes that
// are only worse; and let Bj be the first of them that the changes spare: whatever it
// buys of the changed parts, the shop has as much of it as it needs, at the same price.
//
//	The shop's best build is the first, at the shop's prices, of B1 to Bj.
//
// For let X be any build of the shop that is not among B1 to Bj. Whatever can be built
// from the shop can be built from the centre, for no more: so X is a build of the
// centre, and behind Bj there. A level depends on no price, nor do pieces and SKUs, and
// the price of X is no lower at the shop than at the centre, that of Bj the same: so X
// is behind Bj at the shop too, by level, by price at one level, or by pieces and SKUs
// at one price. Bj itself can be built at the shop, since nothing that it needs has
// changed. What is left are B1 to Bj, of which those ahead of Bj are paid for anew, and
// dropped where the shop has too few of a part or the cap does not cover them.
//
// Where the ranking holds all builds of the centre there are, none need be spared: the
// shop's builds are among them.
//
// What it cannot tell: changes for the better, parts that deals name (reprice.go says
// why), shops of which a build has to choose some. Those are searched.

// Ranked is a build of a ranking as far as prices can change it.
type Ranked struct {
	Best
	Objective float64 // dB, as in the build
}

// RankedOf is a ranking as prices can change it.
func RankedOf(builds []Build) []Ranked {
	all := make([]Ranked, len(builds))
	for i := range builds {
		all[i] = Ranked{BestOf(&builds[i]), builds[i].Objective}
	}
	return all
}

// Foremost is the place, in the ranking of a problem by DistinctParts, of the best
// build at a new state of the catalogue, which differs from the problem's in prices,
// stocks and shops only, and what it costs there; -1 where nothing can be built. all
// says that the ranking holds every build there is. told is false where it takes a
// search.
func Foremost(p Problem, to *catalog.Catalogue, ranking []Ranked, all bool) (place int, cost catalog.Money, told bool, err error) {
	q := p
	q.Catalogue = to
	if p.With != "" || p.Shops != nil || p.Brief.BuildBoxes || touring(&p) || touring(&q) {
		return 0, cost, false, nil
	}
	changes := shifts(&p.Brief, p.Catalogue, to)
	for i := range changes {
		if changes[i].better {
			return 0, cost, false, nil
		}
	}
	place = -1
	var best Stand
	for i, r := range ranking {
		spared, has := true, true
		for k := range changes {
			spared = spared && r.spares(&p.Brief, &changes[k])
			has = has && changes[k].after.most >= r.bought(&p.Brief, changes[k].sku)
		}
		if has {
			stand, err := StandOf(r.priced(to), q)
			if err != nil {
				return 0, cost, false, err
			}
			if stand.Within && (place < 0 || stand.Ahead(&best)) {
				place, best = i, stand
			}
		}
		if spared {
			return place, best.Cost, true, nil
		}
	}
	return place, best.Cost, all, nil
}

// priced is a build as far as StandOf looks at it.
func (r *Ranked) priced(c *catalog.Catalogue) *Build {
	b := &build.Build{Objective: r.Objective}
	for _, m := range r.Parts {
		b.Lines = append(b.Lines, build.Line{Part: c.Part(m.SKU), Count: m.Count})
	}
	return b
}
