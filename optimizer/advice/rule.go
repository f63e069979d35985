package advice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/driver"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// The rules against a part, in words and with the numbers. That a part is
// forbidden is known before any of them is asked: no build holds it. So these
// only have to say what the eye would find on the card and the shelf, and what
// they do not find is left to the conflicts of the search.

// shelved says why a part cannot be had at all.
func (d *Desk) shelved(p *catalog.Part) (words []string) {
	b := &d.p.Brief
	say := func(format string, values ...any) { words = append(words, fmt.Sprintf(format, values...)) }
	if p.Kind.ForBuilding() {
		say("it is what boxes are built with, not a part of a system")
		return words
	}
	if mentioned(b.Never, p.SKU) {
		say("the brief says never %s", p.SKU)
	}
	if mentioned(b.Owned, p.SKU) {
		return words
	}
	switch {
	case !p.Priced:
		say("it has no price, so it can only be in a build if the customer owns it")
	case len(b.Stores) > 0 && !slices.ContainsFunc(b.Stores, func(s string) bool { return catalog.SameStore(s, p.Store) }):
		sold := "it is sold at " + p.Store
		if p.Store == "" {
			sold = "no store is stated for it"
		}
		say("%s, and the brief buys only at %s", sold, strings.Join(b.Stores, ", "))
	}
	if p.Stock == 0 {
		say("it is out of stock")
	}
	if p.Limit == 0 {
		say("none is sold to one customer (limit 0)")
	}
	return words
}

// unfit says what does not go with it.
func (d *Desk) unfit(p *catalog.Part) (words []string) {
	say := func(format string, values ...any) { words = append(words, fmt.Sprintf(format, values...)) }
	b := &d.p.Brief
	switch p.Kind {
	case catalog.KindSubwoofer, catalog.KindLoaded:
		card := driver.Card{}
		if p.Loaded != nil {
			card = p.Loaded.Card
			d.tooLarge(p, say)
		} else {
			card = p.Subwoofer.Card
			d.noHole(p, say)
		}
		celsius := b.Celsius
		if celsius == 0 {
			celsius = 20
		}
		if err := driver.Possible(card, air.At(celsius)); err != nil {
			say("its card cannot be true: %v", err)
		}
	case catalog.KindEnclosure:
		d.noDriver(p, say)
		d.tooLarge(p, say)
	case catalog.KindFront:
		if b.Front == catalog.FrontKeep && !mentioned(b.Owned, p.SKU) {
			say("the front speakers stay as they are (front: keep)")
		}
	case catalog.KindKit:
		k := p.Kit
		if run := d.p.Vehicle.CableRun; run > 0 && k.Length > 0 && k.Length < run {
			say("its cable is %.1f m long, and the run from the battery to the boot is %.1f m", k.Length, run)
			break
		}
		v := supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}.Carries(0, 0)
		carries := min(v.Ampacity, supply.LargestFuse(v.Ampacity))
		if k.Fuse > 0 {
			carries = min(carries, k.Fuse)
		}
		if !v.OK {
			say("its fuse of %.0f A is larger than the %.0f A that its cable carries", k.Fuse, v.Ampacity)
			break
		}
		say("it carries %.0f A, and no amplifiers of a build that it could be in draw so little", carries)
	}
	return words
}

const inch = 0.0254

// noHole says which enclosures a subwoofer does not go into, if it goes into
// none.
func (d *Desk) noHole(p *catalog.Part, say func(string, ...any)) {
	s := p.Subwoofer
	sized, deepest, widest, roomiest := 0, 0.0, 0.0, 0.0
	for _, q := range d.p.Catalogue.Parts {
		if q.Kind != catalog.KindEnclosure || math.Abs(q.Enclosure.Hole-s.Card.Size) > build.SizeTolerance || len(d.shelved(q)) > 0 {
			continue
		}
		e := q.Enclosure
		sized++
		deepest, widest = max(deepest, orEndless(e.Depth)), max(widest, orEndless(e.Cutout))
		roomiest = max(roomiest, e.Box.Volume/float64(max(e.Box.Drivers, 1)))
	}
	switch {
	case sized == 0:
		say("no enclosure on offer has a hole for %.3g in", s.Card.Size/inch)
	case s.Depth > deepest+build.CutTolerance:
		say("it is %.0f mm deep, and the deepest of the %d enclosures for %.3g in has %.0f mm behind the baffle", 1e3*s.Depth, sized, s.Card.Size/inch, 1e3*deepest)
	case s.Cutout > widest+build.CutTolerance:
		say("it needs a cutout of %.0f mm, and the widest of the %d enclosures for %.3g in has %.0f mm", 1e3*s.Cutout, sized, s.Card.Size/inch, 1e3*widest)
	case s.Displacement >= roomiest:
		say("it takes up %.1f L, as much as there is in any enclosure for %.3g in", 1e3*s.Displacement, s.Card.Size/inch)
	}
}

// orEndless is a size that was not stated and is taken to fit.
func orEndless(size float64) float64 {
	if size <= 0 {
		return math.Inf(1)
	}
	return size
}

// noDriver says that no driver goes into an enclosure.
func (d *Desk) noDriver(p *catalog.Part, say func(string, ...any)) {
	e := p.Enclosure
	for _, q := range d.p.Catalogue.Parts {
		if q.Kind == catalog.KindSubwoofer && math.Abs(e.Hole-q.Subwoofer.Card.Size) <= build.SizeTolerance && len(d.shelved(q)) == 0 {
			if most := d.p.Brief.Drivers; most > 0 && e.Box.Drivers > most {
				say("it takes %d drivers, and the brief allows %d", e.Box.Drivers, most)
			}
			return
		}
	}
	say("no driver of %.3g in is on offer for its hole", e.Hole/inch)
}

// tooLarge says that a box does not go into the car in any position.
func (d *Desk) tooLarge(p *catalog.Part, say func(string, ...any)) {
	outside, space := catalog.Size3{}, d.p.Brief.Space
	if p.Loaded != nil {
		outside = p.Loaded.Outside
	} else {
		outside = p.Enclosure.Outside
	}
	if space == (catalog.Size3{}) {
		space = d.p.Vehicle.Space
	}
	if boot := d.p.Vehicle.Boot; !setting.Passes(outside, boot) {
		say("it is %.0f x %.0f x %.0f cm outside, and does not go through the boot's opening of %.0f x %.0f cm", 100*outside.Width, 100*outside.Depth, 100*outside.Height,
			100*boot[0], 100*boot[1])
	}
	if outside == (catalog.Size3{}) || space == (catalog.Size3{}) {
		return
	}
	a := []float64{outside.Width, outside.Depth, outside.Height}
	b := []float64{space.Width, space.Depth, space.Height}
	slices.Sort(a)
	slices.Sort(b)
	// In a position where each side of the box has a side of the space, the
	// sides can be taken in order of size.
	for i := range a {
		if a[i] > b[i]+build.RoomTolerance {
			say("it is %.0f x %.0f x %.0f cm outside, and the space is %.0f x %.0f x %.0f cm", 100*outside.Width, 100*outside.Depth, 100*outside.Height,
				100*space.Width, 100*space.Depth, 100*space.Height)
			return
		}
	}
}

// idleWords says why a part has nothing to do in any build.
func idleWords(kind catalog.Kind) string {
	switch kind {
	case catalog.KindConverter:
		return "it would be idle: in every build that could hold it the signal reaches the amplifiers without it"
	case catalog.KindBlocker:
		return "it would be idle: in every build that could hold it there is another high-pass, or the front speakers need none"
	}
	return "it would be idle: as the bass amplifier no build can use it, and the front speakers need no amplifier of their own"
}
