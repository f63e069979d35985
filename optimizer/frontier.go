package optimizer

import (
	"cmp"
	"slices"

	"loudfor/optimizer/build"
)

// Which rests are behind so many others that they need not be added.

// frontier keeps rests and tells which need not be added: those that are more
// expensive than depth others that are as loud and draw no more.
type frontier struct {
	depth    int
	least    build.Level // quieter ones are not asked for
	most     int64       // nor dearer ones
	heedless bool        // of the current, and of who else may need the amplifier
	all      []rest
	sharp    []rest // those that may stand against others, cheapest without deals first
}

// figure is what a rest counts when it stands against others: for a ranking
// what it costs at most, for a bound on prices what it costs at least.
func (f *frontier) figure(r *rest) int64 {
	if f.heedless {
		return r.price
	}
	return r.full
}

// covers says whether a rest that costs price at least, and without which a
// build is cheaper by worth, at least, need not be added.
func (f *frontier) covers(worth, price int64, l build.Level, demand float64) bool {
	if f.heedless {
		worth = price
	}
	ahead := 0
	for i := range f.sharp {
		q := &f.sharp[i]
		if f.figure(q) >= worth {
			return false
		}
		if q.level >= l && (f.heedless || q.demand <= demand) {
			if ahead++; ahead == f.depth {
				return true
			}
		}
	}
	return false
}

func (f *frontier) add(r rest, t *task) {
	f.all = append(f.all, r)
	if !f.heedless && !t.free(r.own) {
		return
	}
	at, _ := slices.BinarySearchFunc(f.sharp, r, func(a, b rest) int { return cmp.Compare(f.figure(&a), f.figure(&b)) })
	f.sharp = slices.Insert(f.sharp, at, r)
}
