package workshop

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/model/joinery"
)

// The grid: boxes of all volumes that the space and the driver allow, sealed and
// with slots of several widths and tunings, each as it would be built.

// grid says how fine.
type grid struct{ volumes, slots, tunings int }

var (
	coarse = grid{7, 3, 5}  // for every pair
	fine   = grid{14, 5, 9} // for the refinement of one
)

// Ends of the grid. Slots and tunings beyond are of no use to boxes of this
// trade (common practice, no source); the refinement may leave them.
const (
	gridSlotLow, gridSlotHigh     = 0.025, 0.14 // m
	gridTuningLow, gridTuningHigh = 24.0, 66.0  // Hz

	// netShare is the part of the inside that is left to the air, for the
	// first guess of a slot's length.
	netShare = 0.85
)

// trial is one box of a grid with what it does.
type trial struct {
	box    *Box
	gross  float64
	with   stuff
	levels []float64 // with each drive
}

// point is what the refinement moves.
type point struct{ gross, slot, length float64 }

// steps divides a range evenly by ratios.
func steps(low, high float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = low * math.Pow(high/low, float64(i)/float64(max(1, n-1)))
	}
	return out
}

// trials works out a grid for a pair, box by box; why is the first refusal where
// nothing can be built.
func (b *bench) trials(of pair, drives []bass.Drive, g grid) (all []trial, why error) {
	for _, with := range b.stuff {
		low, high, err := b.volumes(of, with)
		if err != nil {
			if why == nil {
				why = err
			}
			continue
		}
		try := func(at point) {
			t, err := b.try(of, at, with, drives)
			switch {
			case err == nil:
				all = append(all, t)
			case why == nil:
				why = err
			}
		}
		for _, gross := range steps(low, high, g.volumes) {
			try(point{gross: gross})
			for _, tuning := range steps(gridTuningLow, b.highestTuning(), g.tunings) {
				widest := min(max(b.mostArea(of, tuning)/math.Cbrt(gross), gridSlotLow), gridSlotHigh)
				for _, slot := range steps(gridSlotLow, widest, g.slots) {
					try(point{gross, slot, b.length(of, gross, slot, tuning)})
				}
			}
		}
	}
	return all, why
}

// highestTuning of the grid, Hz: just below the lowest note of the brief, since a length
// is about right.
func (b *bench) highestTuning() float64 {
	return max(min(gridTuningHigh, 0.98*b.lowestNote()), gridTuningLow)
}

// length is about that of a slot for a tuning: near enough for a grid.
func (b *bench) length(of pair, gross, slot, tuning float64) float64 {
	displaced := of.part.Subwoofer.Displacement
	if displaced == 0 {
		displaced = enclosure.Displacement(of.driver.Size)
	}
	net := gross*netShare - float64(of.n)*displaced
	high := math.Cbrt(gross)
	p := enclosure.Port{Count: 1, Width: slot, Height: high, FlangedEnds: 2}
	return p.LengthFor(tuning, max(net, gross/10), b.air)
}

// wish is the box that a point asks for.
func (b *bench) wish(of pair, at point, with stuff, space joinery.Size) joinery.Wish {
	return joinery.Wish{Volume: at.gross, Proportions: joinery.UsualProportions, Most: space,
		Design: joinery.Design{Thickness: with.sheet.Sheet.Thickness, Drivers: of.n, Mount: mount(of.part), Slot: at.slot, PortLength: at.length}}
}

// volumes are the least and the most inside volume over all positions.
func (b *bench) volumes(of pair, with stuff) (low, high float64, why error) {
	low = math.Inf(1)
	for _, space := range b.spaces {
		a, z, err := b.wish(of, point{}, with, space).Volumes()
		if err != nil {
			// The position that nearly fits says what is missing.
			if why == nil || lacks(err) < lacks(why) {
				why = err
			}
			continue
		}
		low, high = min(low, a), max(high, z)
	}
	if high == 0 {
		return 0, 0, why
	}
	return low * (1 + 1e-9), high * (1 - 1e-9), nil
}

// lacks is how much of a length is missing, m.
func lacks(err error) float64 {
	var fault *joinery.Error
	if errors.As(err, &fault) && fault.Lacks > 0 {
		return fault.Lacks
	}
	return math.Inf(1)
}

// try builds the box of a point, in the first position of the space that it
// fits, in whole millimetres, and hears it.
func (b *bench) try(of pair, at point, with stuff, drives []bass.Drive) (trial, error) {
	box, err := b.build(of, at, with)
	if err != nil {
		return trial{}, err
	}
	levels, err := b.hear(of, box.Joinery, drives)
	return trial{box: box, gross: at.gross, with: with, levels: levels}, err
}

// build works out the box of a point.
func (b *bench) build(of pair, at point, with stuff) (*Box, error) {
	var first error
	for _, space := range b.spaces {
		design, err := joinery.Draw(b.wish(of, at, with, space))
		if err == nil {
			var made *joinery.Box
			if made, err = design.Rounded().Build(); err == nil {
				err = b.sensible(of, made)
			}
			if err == nil {
				return b.finish(of, made, with)
			}
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

// finish cuts and prices a box, and holds it against weight and stock.
func (b *bench) finish(of pair, made *joinery.Box, with stuff) (*Box, error) {
	d := made.Design
	box := &Box{Driver: of.part, Sheet: with.sheet, Workshop: with.shop, Joinery: made,
		Description: catalog.BuiltBox{Driver: of.part.SKU, Holes: of.n, Sheet: with.sheet.SKU, Workshop: with.shop.SKU,
			Outside: catalog.Size3{Width: d.Outside[0], Depth: d.Outside[1], Height: d.Outside[2]},
			Slot:    d.Slot, Tube: d.Tube, PortLength: d.PortLength}}
	if !d.Vented() {
		box.Description.PortLength = 0
	}
	if err := box.cut(&b.p.Brief); err != nil {
		return nil, err
	}
	if most := b.p.Brief.BoxWeight; most > 0 && box.Weight > most {
		return nil, fmt.Errorf("weight of the wood %.3g kg: the brief allows %.3g kg", box.Weight, most)
	}
	if have := pieces(with.sheet, &b.p.Brief); box.Nesting.Sheets > have {
		return nil, fmt.Errorf("%d sheets of %s: only %d can be had", box.Nesting.Sheets, with.sheet.SKU, have)
	}
	return box, nil
}

// price is what the customer pays for the box, before tax.
func (t *trial) price() int64 { return t.box.Material.Minor + t.box.Work.Minor }

// worthwhile are the trials that are louder with drive i than every cheaper one
// among them, by more than a gain in dB; cheapest first, and in any case the
// loudest of all. Of equals the first of the grid stays.
func worthwhile(all []trial, i int, most int64, gain float64) (best []trial) {
	order := make([]int, len(all))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(x, y int) int {
		return cmp.Or(cmp.Compare(all[x].price(), all[y].price()), cmp.Compare(all[y].levels[i], all[x].levels[i]))
	})
	level, top := math.Inf(-1), -1
	for _, k := range order {
		t := &all[k]
		if t.price() > most {
			break
		}
		if t.levels[i] > level+gain {
			best, level = append(best, *t), t.levels[i]
		}
		if top < 0 || t.levels[i] > all[top].levels[i] {
			top = k
		}
	}
	if top >= 0 && all[top].levels[i] > level+Tolerance {
		best = append(best, all[top])
	}
	return best
}
