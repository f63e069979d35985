package completion

import (
	"math"
	"math/bits"
	"sync/atomic"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// Lists of completions: each is made when it is asked for first, and kept.

// List is the completions of one key, cheapest first, with their cost to reach.
type List struct {
	All  []Completion
	Cost CostToReach
	Cut  bool // there may be more: see package halt
}

// None is a list without any.
var None = new(List)

// List is every completion of a key that can enter a ranking and costs no more than a
// sum, cheapest first; there may be some that cost a little more. With an amplifier
// in the key, it lists only those that use its spare channels.
func (r *Lists) List(k Key, most int64) *List {
	if k.Amp != nil && k.Forced != nil {
		return None
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.listed(listKey{k, min(Ample(most), r.Limit)})
}

// Ample rounds a sum up, by a quarter at most, so that one list does for many.
func Ample(sum int64) int64 {
	if sum <= 0 {
		return 0
	}
	unit := int64(1) << max(0, bits.Len64(uint64(sum))-3)
	return (sum + unit - 1) / unit * unit
}

func (r *Lists) listed(k listKey) *List {
	if l, known := r.lists[k]; known {
		return l
	}
	f := listFilter{depth: r.Depth, least: k.Least, most: k.most}
	made := r.compose(&f, k.Key)
	if k.Amp != nil {
		base := r.keysOf(listKey{Key{Speaker: k.Speaker, Least: k.Least}, k.most})
		for i := range made.All {
			made.All[i].Twin = base[made.All[i].Parts.Key()]
		}
	}
	r.lists[k] = made
	return made
}

// keysOf are the keys of a list of completions.
func (r *Lists) keysOf(k listKey) map[string]bool {
	if m, known := r.keys[k]; known {
		return m
	}
	m := make(map[string]bool)
	for _, b := range r.listed(k).All {
		m[b.Parts.Key()] = true
	}
	r.keys[k] = m
	return m
}

// Quick is the cheapest completion for every level, whatever current it draws: for
// bounds on the price, and for first finds.
func (r *Lists) Quick(k Key) *List {
	// Nearly every pair asks for one of two, which are found without a map.
	var plain *atomic.Pointer[List]
	switch k {
	case Key{}:
		plain = &r.plain[0]
	case Key{Speaker: true}:
		plain = &r.plain[1]
	}
	if plain != nil && plain.Load() != nil {
		return plain.Load()
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	l, known := r.quicks[k]
	if !known {
		f := listFilter{depth: 1, least: build.Silent, most: r.Limit, heedless: true}
		l = r.compose(&f, k)
		r.quicks[k] = l
	}
	if plain != nil {
		plain.Store(l)
	}
	return l
}

// Floor is a lower bound on the price of any completion beside amp, with the first parts
// for that; ok is false when there is none.
func (r *Lists) Floor(amp, forced *pricing.Item, spare bool) (floor int64, parts pricing.Set, ok bool) {
	speaker := amp.Part.Amplifier.SpeakerInput
	floor = math.MaxInt64
	if l := r.Quick(Key{Speaker: speaker, Forced: forced}).All; len(l) > 0 {
		floor, parts = l[0].Price, l[0].Parts
	}
	if spare && forced == nil && (r.spareFloor < floor || r.spareFloor == floor && r.spareParts.Compare(parts) < 0) {
		floor, parts = r.spareFloor, r.spareParts
	}
	return floor, parts, floor < math.MaxInt64
}

// floorOnSpare is that bound when spare channels drive the front, whether they
// can or not.
func (r *Lists) floorOnSpare() (int64, pricing.Set) {
	if len(r.speakers) == 0 || len(r.sources) == 0 {
		return math.MaxInt64, nil
	}
	source, c := r.sources[0], r.speakers[0]
	return source.Lower(1) + c.Lower(1), pricing.Collect(pricing.One(source), pricing.One(c.Item))
}

// Longest is how long the longest list is that was asked for.
func (r *Lists) Longest() (n int) {
	for _, l := range r.lists {
		n = max(n, len(l.All))
	}
	return n
}
