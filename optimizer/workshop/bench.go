package workshop

import (
	"errors"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/joinery"
	"loudfor/model/supply"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// The bench is what stays the same for all boxes of one brief: the car, the
// space, the material that can be had, and how far a reading is pushed.

// openField is the distance of the meter on open ground, m, as in package
// optimizer.
const openField = 1.0

type bench struct {
	p      optimizer.Problem
	air    air.Air
	room   cabin.Response
	limits bass.Limits
	feed   supply.Feed // without the cable
	spaces []joinery.Size
	stuff  []stuff
	amps   []*catalog.Part // cheapest first, each stronger than all before
	memory sync.Pool       // of *bass.Prepared
}

// stuff is a sheet with a workshop that can be had.
type stuff struct{ sheet, shop *catalog.Part }

func newBench(p optimizer.Problem) (*bench, error) {
	b := &bench{p: p, limits: bass.Reading()}
	brief := &p.Brief
	b.air = air.At(brief.Celsius)
	open := strings.EqualFold(p.Vehicle.Name, catalog.OpenFieldName) || strings.EqualFold(brief.Vehicle, catalog.OpenFieldName)
	if open {
		b.room = cabin.OpenField(bass.Grid(), openField, b.air)
	} else {
		place, openings := brief.Place, brief.Openings
		if place == "" {
			place = catalog.DefaultBrief().Place
		}
		if openings == "" {
			openings = catalog.DefaultBrief().Openings
		}
		room, err := p.Vehicle.Body.Respond(bass.Grid(), place, openings, brief.Celsius)
		if err != nil {
			return nil, err
		}
		b.room = room
	}
	if brief.Overdrive > 0 {
		b.limits.Overdrive = brief.Overdrive
	}
	if brief.Burst > 0 {
		b.limits.Burst = brief.Burst
	}
	rating := brief.Alternator
	if !(rating > 0) {
		rating = p.Vehicle.Alternator
	}
	b.feed = supply.Feed{Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance,
		Reserve: supply.Reserve(rating, p.Vehicle.Standby)}
	space := brief.Space
	if space == (catalog.Size3{}) {
		space = p.Vehicle.Space
	}
	if open || space == (catalog.Size3{}) {
		space = catalog.Size3{Width: 1.5, Depth: 0.8, Height: 0.8} // nothing limits it: what two people carry
	}
	s := joinery.Size{space.Width, space.Depth, space.Height}
	// The box may lie or stand; the wide way first, since drivers sit in a row.
	for _, turn := range [6][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		b.spaces = append(b.spaces, through(joinery.Size{s[turn[0]], s[turn[1]], s[turn[2]]}, p.Vehicle.Boot)...)
	}
	b.amps = b.frontier()
	return b, b.gather()
}

// gather finds the sheets and workshops that the brief allows.
func (b *bench) gather() error {
	var sheets, shops []*catalog.Part
	for _, p := range b.p.Catalogue.Parts {
		if !p.Kind.ForBuilding() || pieces(p, &b.p.Brief) == 0 {
			continue
		}
		switch {
		case p.Kind == catalog.KindWorkshop:
			shops = append(shops, p)
		case b.p.Brief.BoxWeight == 0 || p.Sheet.Density > 0:
			sheets = append(sheets, p)
		}
	}
	switch {
	case len(sheets) == 0:
		return errors.New("no box can be built: no sheet material of the catalogue can be had (price, stock, stores, and with box_weight its density)")
	case len(shops) == 0:
		return errors.New("no box can be built: no workshop of the catalogue can be had (price, stores)")
	}
	for _, sheet := range sheets {
		for _, shop := range shops {
			b.stuff = append(b.stuff, stuff{sheet, shop})
		}
	}
	return nil
}

// pieces is how many of a part a customer can have.
func pieces(p *catalog.Part, brief *catalog.Brief) int {
	n := owned(brief, p.SKU)
	for _, m := range brief.Never {
		if m.SKU == p.SKU {
			return 0
		}
	}
	if !p.Priced || !brief.Sells(p.Store) {
		return n
	}
	buy := build.Plenty
	if p.Stock != catalog.Unlimited {
		buy = min(buy, max(p.Stock, 0))
	}
	if p.Limit != catalog.Unlimited {
		buy = min(buy, max(p.Limit, 0))
	}
	return n + buy
}

// pair is so many of one driver in one box.
type pair struct {
	part   *catalog.Part
	driver driver.Driver
	n      int
}

// heard is what a box does with a drive: what the goal ranks by, as far as the
// bass decides it, dB.
func (b *bench) heard(p *bass.Prepared, d bass.Drive) float64 {
	if b.p.Brief.Goal == catalog.GoalMusic {
		return bass.MusicLevel(p, d)
	}
	return p.Loudest(d, b.limits).Level
}

// hear puts the drivers into a box and gives its level with each drive. The
// memory is used again: a grid is thousands of boxes.
func (b *bench) hear(of pair, box *joinery.Box, drives []bass.Drive) ([]float64, error) {
	p, _ := b.memory.Get().(*bass.Prepared)
	if p == nil {
		p = new(bass.Prepared)
	}
	defer b.memory.Put(p)
	s := bass.Setup{Driver: of.driver, Box: box.Enclosure, Boxes: 1, Displacement: of.part.Subwoofer.Displacement, Air: b.air}
	if err := bass.PrepareInto(p, s, &b.room); err != nil {
		return nil, err
	}
	levels := make([]float64, len(drives))
	for i, d := range drives {
		levels[i] = b.heard(p, d)
	}
	return levels, nil
}
