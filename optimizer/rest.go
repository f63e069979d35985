package optimizer

import (
	"cmp"
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
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
	parts  pricing.Set
	tie    singles // the same
	price  int64
	full   int64 // without deals
	pieces int
	demand float64       // A of the front's own amplifier
	level  build.Level   // of the front stage; 0 when the goal is the reading
	own    *pricing.Item // the front's own amplifier
	twin   bool          // the same parts stand in the base list too
	free   bool          // whatever the bass takes
}

// restKey is what the rest has to know of the bass.
type restKey struct {
	speaker bool          // the bass amplifier takes speaker wires
	amp     *pricing.Item // whose left-over channels may drive the front; nil: none
	forced  *pricing.Item // amplifier that has to come in as the front's own
	least   build.Level   // no front stage quieter than this is asked for
}

// listKey is a list of rests that cost no more than a sum.
type listKey struct {
	restKey
	most int64
}

// rests builds and keeps the lists.
type rests struct {
	*drive.Gear
	sources                        []*pricing.Item
	choices                        []choice
	owns                           []*pricing.Item
	converts                       []*pricing.Item
	blockers                       []*pricing.Item
	forcedConverter, forcedBlocker bool
	usefulConverter, usefulBlocker bool // and it may not be idle
	mutex                          sync.Mutex
	lists                          map[listKey]*restList
	spares                         map[*pricing.Item]stairs
	quicks                         map[restKey]*restList
	keys                           map[listKey]map[string]bool // of lists: see keysOf
	packs                          map[packKey][]pack
	merged                         map[packKey][]pack
	ears                           map[earKey]*ear
	blocks                         map[choice][]*pricing.Item
	voices                         []*voice // of the choices
	powers                         map[powersKey][]ownPower
	ownLists                       map[float64][]*pricing.Item // by load

	// Whether a part must not be left without a use: see idle.go.
	lineNeeded, blockerNeeded, ownNeeded bool
	aided                                map[float64]bool // loads of pairs that need a blocker

	// What a part for a slot may save beyond its own price, by a deal that
	// wants it: in a line converter, and in all slots of a pack but its pair.
	graceLine, gracePack int64

	limit int64 // that of the task at first

	spareFloor int64 // see floorOnSpare
	spareParts pricing.Set
}

func newRests(t *drive.Gear) *rests {
	r := &rests{Gear: t, limit: t.Limit,
		converts: pricing.KeepUndominated(t.Slot(catalog.KindConverter), t.Depth, func(it *pricing.Item) bool { return it.Part.Converter.Channels >= 2 }),
		blockers: pricing.KeepUndominated(t.Slot(catalog.KindBlocker), t.Depth, func(it *pricing.Item) float64 { return it.Part.Blocker.Capacitance }),

		forcedConverter: t.ForcedKind(catalog.KindConverter),
		forcedBlocker:   t.ForcedKind(catalog.KindBlocker),
		usefulConverter: t.UsefulKind(catalog.KindConverter),
		usefulBlocker:   t.UsefulKind(catalog.KindBlocker),
		lists:           make(map[listKey]*restList),
		spares:          make(map[*pricing.Item]stairs),
		quicks:          make(map[restKey]*restList),
		keys:            make(map[listKey]map[string]bool),
		packs:           make(map[packKey][]pack),
		merged:          make(map[packKey][]pack),
		ears:            make(map[earKey]*ear),
		blocks:          make(map[choice][]*pricing.Item),
		powers:          make(map[powersKey][]ownPower),
		ownLists:        make(map[float64][]*pricing.Item),
	}
	for _, it := range t.Shelf.Kinds[catalog.KindAmplifier] {
		if it.Offered() {
			r.owns = append(r.owns, it)
		}
	}
	slices.SortStableFunc(r.owns, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	r.graceLine = pricing.MaxNegativeMarginal(r.converts)
	r.lineNeeded = r.graceLine > 0 || r.usefulConverter
	r.blockerNeeded = pricing.MaxNegativeMarginal(r.blockers) > 0 || r.usefulBlocker
	r.ownNeeded = pricing.MaxNegativeMarginal(r.owns) > 0 || t.UsefulKind(catalog.KindAmplifier) || r.lineNeeded // by its wires
	r.gracePack = r.graceLine + pricing.MaxNegativeMarginal(r.owns) + pricing.MaxNegativeMarginal(r.blockers)
	r.choices = r.thinChoices(r.listChoices())
	if t.Music() {
		for _, c := range r.choices {
			r.voices = append(r.voices, r.voiceOf(c))
		}
	}
	r.sources = r.thinSources(pricing.KeepUndominated(t.Slot(catalog.KindSource), t.Depth, pricing.SourceFeatures))
	r.spareFloor, r.spareParts = r.floorOnSpare()
	return r
}
