package optimizer

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"loudfor/catalog"
)

// The rest of a build is everything but the bass block, its amplifiers and the
// kit: a source, front speakers, what drives them, a line converter and a bass
// blocker where they are needed. It meets the bass only in the money, the
// current, and a few features of the bass amplifier; so it is listed once for
// each set of those features, cheapest first.
//
// No idle parts: a line converter is there only when the signal path needs it;
// for a reading, an amplifier of the front's own only when the source cannot
// drive the pair by the rule, and a blocker only when the rule fails without;
// for music either only adds where there is no high-pass, or may raise the
// front's level. What the brief's must names is there in any case.

// rest is one way to complete a bass system.
type rest struct {
	parts  set
	price  int64
	full   int64 // without deals
	pieces int
	demand float64 // A of the front's own amplifier
	level  level   // of the front stage; 0 when the goal is the reading
	own    *item   // the front's own amplifier
	twin   bool    // the same parts stand in the base list too
}

// restKey is what the rest has to know of the bass.
type restKey struct {
	speaker bool  // the bass amplifier takes speaker wires
	amp     *item // whose left-over channels may drive the front; nil: none
	forced  *item // amplifier that has to come in as the front's own
	least   level // no front stage quieter than this is asked for
}

// rests builds and keeps the lists.
type rests struct {
	t                              *task
	sources                        []*item
	choices                        []choice
	owns                           []*item
	converts                       []*item
	blockers                       []*item
	forcedConverter, forcedBlocker bool
	usefulConverter, usefulBlocker bool // and it may not be idle
	mutex                          sync.Mutex
	lists                          map[restKey]*restList
	spares                         map[*item]stairs
	quicks                         map[restKey]*restList
	keys                           map[restKey]map[string]bool // of lists: see keysOf
	packs                          map[packKey][]pack
	merged                         map[packKey][]pack
	ears                           map[earKey]*ear
	blocks                         map[choice][]*item
	voices                         []*voice // of the choices
	powers                         map[powersKey][]ownPower
	ownLists                       map[float64][]*item // by load

	// Whether a part must not be left without a use: see idle.go.
	lineNeeded, blockerNeeded, ownNeeded bool
	aided                                map[float64]bool // loads of pairs that need a blocker

	// What a part for a slot may save beyond its own price, by a deal that
	// wants it: in a line converter, and in all slots of a pack but its pair.
	graceLine, gracePack int64
}

// grace is how far the worth of a part for a slot can lie below zero.
func grace(items []*item) (most int64) {
	for _, it := range items {
		most = max(most, -it.worth())
	}
	return most
}

// slot lists the parts that may fill a slot of one piece, cheapest first.
func (t *task) slot(kind catalog.Kind) []*item {
	var must []*item
	for _, it := range t.musts {
		if it.part.Kind == kind {
			must = append(must, it)
		}
	}
	var all []*item
	for _, it := range t.shelf.kinds[kind] {
		if it.offered() && (len(must) == 0 || len(must) == 1 && must[0] == it && it.must == 1) {
			all = append(all, it)
		}
	}
	slices.SortStableFunc(all, func(a, b *item) int { return cmp.Compare(a.cost(1), b.cost(1)) })
	return all
}

func (t *task) forcedKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(t.musts, func(it *item) bool { return it.part.Kind == kind })
}

func (t *task) newRests() *rests {
	r := &rests{t: t,
		converts: keepDeep(t.slot(catalog.KindConverter), t.top, func(it *item) bool { return it.part.Converter.Channels >= 2 }),
		blockers: keepDeep(t.slot(catalog.KindBlocker), t.top, func(it *item) float64 { return it.part.Blocker.Capacitance }),

		forcedConverter: t.forcedKind(catalog.KindConverter),
		forcedBlocker:   t.forcedKind(catalog.KindBlocker),
		usefulConverter: t.usefulKind(catalog.KindConverter),
		usefulBlocker:   t.usefulKind(catalog.KindBlocker),
		lists:           make(map[restKey]*restList),
		spares:          make(map[*item]stairs),
		quicks:          make(map[restKey]*restList),
		keys:            make(map[restKey]map[string]bool),
		packs:           make(map[packKey][]pack),
		merged:          make(map[packKey][]pack),
		ears:            make(map[earKey]*ear),
		blocks:          make(map[choice][]*item),
		powers:          make(map[powersKey][]ownPower),
		ownLists:        make(map[float64][]*item),
	}
	for _, it := range t.shelf.kinds[catalog.KindAmplifier] {
		if it.offered() {
			r.owns = append(r.owns, it)
		}
	}
	slices.SortStableFunc(r.owns, func(a, b *item) int { return cmp.Compare(a.cost(1), b.cost(1)) })
	r.graceLine = grace(r.converts)
	r.lineNeeded = r.graceLine > 0 || r.usefulConverter
	r.blockerNeeded = grace(r.blockers) > 0 || r.usefulBlocker
	r.ownNeeded = grace(r.owns) > 0 || t.usefulKind(catalog.KindAmplifier) || r.lineNeeded // by its wires
	r.gracePack = r.graceLine + grace(r.owns) + grace(r.blockers)
	r.choices = r.thinChoices(t.choices())
	if t.music() {
		for _, c := range r.choices {
			r.voices = append(r.voices, r.voiceOf(c))
		}
	}
	r.sources = r.thinSources(keepDeep(t.slot(catalog.KindSource), t.top, sourceFeatures))
	return r
}

// sourceFeatures is everything that the search asks of a head unit.
func sourceFeatures(it *item) catalog.Source {
	s := *it.part.Source
	return catalog.Source{PreOuts: min(s.PreOuts, 1), Channels: s.Channels, Power: s.Power, Load: s.Load,
		MinimumLoad: s.MinimumLoad, HighPass: s.HighPass, SupplyVolts: s.SupplyVolts}
}

// keepDeep keeps the first depth items of each feature: one that comes later
// is behind depth others that do all that it does, for less or for as much and
// with an earlier SKU. A part in a deal neither counts nor goes: its price
// depends on what else is bought.
func keepDeep[F comparable](items []*item, depth int, feature func(*item) F) []*item {
	seen := make(map[F]int)
	var kept []*item
	for _, it := range items {
		if it.whole > 0 {
			kept = append(kept, it)
			continue
		}
		f := feature(it)
		if seen[f]++; seen[f] <= depth {
			kept = append(kept, it)
		}
	}
	return kept
}

// restList is the rests of one key, cheapest first, with their staircase.
type restList struct {
	all    []rest
	stairs stairs
}

var noRests = new(restList)

// list is every rest of a key that can enter a ranking, cheapest first. With
// an amplifier in the key, it lists only those that use its spare channels.
func (r *rests) list(k restKey) *restList {
	if k.amp != nil && k.forced != nil {
		return noRests
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	return r.listed(k)
}

func (r *rests) listed(k restKey) *restList {
	if l, known := r.lists[k]; known {
		return l
	}
	f := frontier{depth: r.t.top, least: k.least}
	made := r.compose(&f, k)
	if k.amp != nil {
		base := r.keysOf(restKey{speaker: k.speaker, least: k.least})
		for i := range made.all {
			made.all[i].twin = base[made.all[i].parts.key()]
		}
	}
	r.lists[k] = made
	return made
}

// keysOf are the keys of a list of rests.
func (r *rests) keysOf(k restKey) map[string]bool {
	if m, known := r.keys[k]; known {
		return m
	}
	m := make(map[string]bool)
	for _, b := range r.listed(k).all {
		m[b.parts.key()] = true
	}
	r.keys[k] = m
	return m
}

// quick is the cheapest rest for every level, whatever current it draws: for
// bounds on the price, and for first finds.
func (r *rests) quick(k restKey) *restList {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if l, known := r.quicks[k]; known {
		return l
	}
	f := frontier{depth: 1, least: silent, heedless: true}
	r.quicks[k] = r.compose(&f, k)
	return r.quicks[k]
}

// compose puts sources, speakers and what drives them together.
func (r *rests) compose(f *frontier, k restKey) *restList {
	sources := r.sources
	if f.heedless {
		sources = keepDeep(sources, 1, sourceFeatures)
	}
	could := r.could(f.least, k)
	for _, s := range sources {
		for _, i := range could {
			c := r.choices[i]
			if f.covers(s.worth()+c.worth()-r.gracePack, r.peak(i), 0) {
				continue
			}
			r.complete(f, k, s, c)
		}
		if r.t.brief.Goal == catalog.GoalMusic && k.amp == nil {
			for _, p := range r.merge(packKey{highPass: s.part.Source.HighPass, forced: k.forced, least: f.least, quick: f.heedless}) {
				r.connect(f, k, s, p)
			}
		}
	}
	l := f.all
	slices.SortStableFunc(l, func(a, b rest) int {
		return cmp.Or(cmp.Compare(a.price, b.price), cmp.Compare(b.level, a.level), cmp.Compare(a.pieces, b.pieces), a.parts.compareSKUs(b.parts))
	})
	return &restList{all: l, stairs: stairsOf(l)}
}

// could are the places of the pairs that could be as loud as a level, with what
// drives them but an amplifier of their own.
func (r *rests) could(least level, k restKey) (all []int) {
	if !r.t.music() {
		for i := range r.choices {
			all = append(all, i)
		}
		return all
	}
	return r.loud(least, func(load float64) (watts float64) {
		if k.amp != nil {
			return r.t.stereoPower(k.amp, load)
		}
		for _, s := range r.sources {
			watts = max(watts, sourcePower(s.part.Source, load))
		}
		return watts
	})
}

// peak bounds the level of a pair whatever drives it and whatever filters it.
func (r *rests) peak(i int) level {
	if !r.t.music() {
		return 0
	}
	return r.voices[i].top
}

// complete adds the rests of one source and one pair of speakers.
func (r *rests) complete(f *frontier, k restKey, s *item, c choice) {
	src := s.part.Source
	if k.amp != nil {
		highPass := src.HighPass || k.amp.part.Amplifier.HighPass
		p := pack{choice: c, power: FromBass, speaker: k.speaker}
		for _, q := range r.filtered(p, r.t.stereoPower(k.amp, c.load), highPass) {
			r.connect(f, k, s, q)
		}
		return
	}
	if k.forced == nil {
		direct := r.filtered(pack{choice: c, power: FromSource, speaker: true}, sourcePower(src, c.load), src.HighPass)
		for _, q := range direct {
			r.connect(f, k, s, q)
		}
		if r.t.brief.Goal == catalog.GoalMusic || len(direct) > 0 || r.aidBeyond() && r.direct(c, src) {
			return
		}
	}
	if k.forced != nil && k.forced.used && r.t.brief.Goal == catalog.GoalReading && r.direct(c, src) {
		return // it would be idle
	}
	if r.t.brief.Goal == catalog.GoalReading {
		for _, q := range r.own(packKey{choice: c, highPass: src.HighPass, forced: k.forced}) {
			r.connect(f, k, s, q)
		}
	}
}

// connect completes a source and a pack with the signal path.
func (r *rests) connect(f *frontier, k restKey, s *item, p pack) {
	src := s.part.Source
	sum := p
	join(&sum, s)
	if p.level < f.least || sum.price > r.t.limit || f.covers(sum.worth-r.graceLine, p.level, p.demand) {
		return
	}
	need := 0 // channels that a line converter must have
	if src.PreOuts == 0 && !r.t.relaxed.signal {
		if src.Channels < 2 {
			return
		}
		if !k.speaker {
			need = 1
		}
		if !p.speaker {
			need = 2
		}
	}
	add := func(converter *item) {
		sum := sum
		if converter != nil {
			join(&sum, converter)
		}
		if f.covers(sum.worth, p.level, p.demand) {
			return
		}
		parts := collect(use{s, 1}, use{p.choice.item, 1}, use{p.own, 1}, use{converter, 1}, use{p.blocker, 1})
		f.add(rest{parts: parts, price: sum.price, full: sum.full, pieces: parts.pieces(), demand: p.demand, level: p.level, own: p.own}, r.t)
	}
	if need == 0 && !r.forcedConverter {
		add(nil)
		return
	}
	if need == 0 && r.usefulConverter {
		return // idle
	}
	for _, it := range r.converts {
		if it.part.Converter.Channels >= need {
			add(it)
		}
	}
}

// restFloor is a lower bound on the price of any rest beside amp; ok is false
// when there is none.
func (t *task) restFloor(amp, forced *item, spare bool) (floor int64, ok bool) {
	r := t.rests
	speaker := amp.part.Amplifier.SpeakerInput
	floor = math.MaxInt64
	if l := r.quick(restKey{speaker: speaker, forced: forced}).all; len(l) > 0 {
		floor = l[0].price
	}
	if spare && forced == nil {
		floor = min(floor, r.spareFloor())
	}
	return floor, floor < math.MaxInt64
}

// spareFloor is that bound when spare channels drive the front, whether they
// can or not.
func (r *rests) spareFloor() int64 {
	if len(r.choices) == 0 || len(r.sources) == 0 {
		return math.MaxInt64
	}
	pair := int64(math.MaxInt64)
	for _, c := range r.choices {
		pair = min(pair, c.cost(1))
	}
	return r.sources[0].cost(1) + pair
}
