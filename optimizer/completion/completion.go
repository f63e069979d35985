package completion

import (
	"cmp"
	"slices"
	"sync"
	"sync/atomic"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// The completion of a build is everything but the bass block, its amplifiers and the
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

// Completion is one way to complete a bass system.
type Completion struct {
	Parts  pricing.Set
	tie    singles // the same
	Price  int64
	full   int64 // without deals
	Pieces int
	Demand float64       // A of the front's own amplifier
	Level  build.Level   // of the front stage; 0 when the goal is the reading
	Own    *pricing.Item // the front's own amplifier
	Twin   bool          // the same parts stand in the base list too
	free   bool          // whatever the bass takes
}

// Key is what the completion has to know of the bass.
type Key struct {
	Speaker bool          // the bass amplifier takes speaker wires
	Amp     *pricing.Item // whose left-over channels may drive the front; nil: none
	Forced  *pricing.Item // amplifier that has to come in as the front's own
	Least   build.Level   // no front stage quieter than this is asked for
}

// listKey is a list of completions that cost no more than a sum.
type listKey struct {
	Key
	most int64
}

// Lists builds and keeps the lists.
type Lists struct {
	*drive.Gear
	sources                        []*pricing.Item
	speakers                       []Speakers
	owns                           []*pricing.Item
	converts                       []*pricing.Item
	blockers                       []*pricing.Item
	forcedConverter, forcedBlocker bool
	usefulConverter, usefulBlocker bool // and it may not be idle
	mutex                          sync.Mutex
	lists                          map[listKey]*List
	spares                         map[*pricing.Item]CostToReach
	quicks                         map[Key]*List
	plain                          [2]atomic.Pointer[List]     // see Quick
	keys                           map[listKey]map[string]bool // of lists: see keysOf
	stages                         map[stageKey][]frontStage
	merged                         map[stageKey][]frontStage
	responses                      map[responseKey]*response
	blocks                         map[Speakers][]*pricing.Item
	envelopes                      []*responseEnvelope // of the speakers
	powers                         map[powersKey][]ownPower
	ownLists                       map[float64][]*pricing.Item // by load

	priceAlone bool // how loud a front stage is does not matter

	// Whether a part must not be left without a use: see unused.go.
	lineNeeded, blockerNeeded, ownNeeded bool
	needed                               map[float64]bool // loads of pairs that need a blocker

	// What a part for a slot may save beyond its own price, by a deal that
	// wants it: in a line converter, and in all slots of a front stage but its pair.
	lineSaving, stageSaving int64

	limit int64 // that of the task at first

	spareFloor int64 // see floorOnSpare
	spareParts pricing.Set
}

// PriceAlone tells the lists, before the first is asked for, that how loud a front stage
// is does not matter: all are held to be as loud as one another, and what is cheaper,
// and draws no more, leaves the others out.
func (r *Lists) PriceAlone() { r.priceAlone = true }

// New prepares the lists of a gear: what each part is worth by itself is told here.
func New(t *drive.Gear) *Lists {
	r := &Lists{Gear: t, limit: t.Limit,
		converts: pricing.KeepUndominated(t.Slot(catalog.KindConverter), t.Depth, func(it *pricing.Item) bool { return it.Part.Converter.Channels >= 2 }),
		blockers: pricing.KeepUndominated(t.Slot(catalog.KindBlocker), t.Depth, func(it *pricing.Item) float64 { return it.Part.Blocker.Capacitance }),

		forcedConverter: t.ForcedKind(catalog.KindConverter),
		forcedBlocker:   t.ForcedKind(catalog.KindBlocker),
		usefulConverter: t.UsefulKind(catalog.KindConverter),
		usefulBlocker:   t.UsefulKind(catalog.KindBlocker),
		lists:           make(map[listKey]*List),
		spares:          make(map[*pricing.Item]CostToReach),
		quicks:          make(map[Key]*List),
		keys:            make(map[listKey]map[string]bool),
		stages:          make(map[stageKey][]frontStage),
		merged:          make(map[stageKey][]frontStage),
		responses:       make(map[responseKey]*response),
		blocks:          make(map[Speakers][]*pricing.Item),
		powers:          make(map[powersKey][]ownPower),
		ownLists:        make(map[float64][]*pricing.Item),
	}
	for _, it := range t.Shelf.Kinds[catalog.KindAmplifier] {
		if it.Offered() {
			r.owns = append(r.owns, it)
		}
	}
	slices.SortStableFunc(r.owns, func(a, b *pricing.Item) int { return cmp.Compare(a.Lower(1), b.Lower(1)) })
	r.lineSaving = pricing.MaxNegativeMarginal(r.converts)
	r.lineNeeded = r.lineSaving > 0 || r.usefulConverter
	r.blockerNeeded = pricing.MaxNegativeMarginal(r.blockers) > 0 || r.usefulBlocker
	r.ownNeeded = pricing.MaxNegativeMarginal(r.owns) > 0 || t.UsefulKind(catalog.KindAmplifier) || r.lineNeeded // by its wires
	r.stageSaving = r.lineSaving + pricing.MaxNegativeMarginal(r.owns) + pricing.MaxNegativeMarginal(r.blockers)
	r.speakers = r.undominatedSpeakers(r.ListSpeakers())
	if t.Music() {
		for _, c := range r.speakers {
			r.envelopes = append(r.envelopes, r.envelopeOf(c))
		}
	}
	r.sources = r.undominatedSources(pricing.KeepUndominated(t.Slot(catalog.KindSource), t.Depth, pricing.SourceFeatures))
	r.spareFloor, r.spareParts = r.floorOnSpare()
	return r
}
