package catalog

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// A brief names parts, shops, a car and places in it. Whether they exist is
// known only when all files are read.

// CheckBrief holds a brief against the catalogue and the vehicles. It gives
// the vehicle that the brief means, and a report in which every name that is
// not known has its place and the nearest known name.
func CheckBrief(b Brief, c *Catalogue, vehicles []Vehicle) (Vehicle, *Report) {
	report := &Report{}
	if c == nil {
		c = &Catalogue{}
	}
	v := b.vehicle(vehicles, report)
	b.mentions(c, report)
	b.money(c, report)
	b.building(c, report)
	for _, l := range LabourLines(&b, &v) {
		if c.Currency != "" && l.Price.Currency != c.Currency {
			report.Add(b.problem(Error, l.Where, fmt.Sprintf("%s costs %s, but the catalogue is in %s", l.Name, l.Price, c.Currency),
				"write the price in "+c.Currency))
		}
	}
	report.Sort(document.MostProblems)
	return v, report
}

// CheckBuild does the same for a build, with its parts.
func CheckBuild(f BuildFile, c *Catalogue, vehicles []Vehicle) (Vehicle, *Report) {
	v, report := CheckBrief(f.Brief, c, vehicles)
	if c == nil {
		c = &Catalogue{}
	}
	parts := f.Parts
	if b := f.Built; b != nil { // it is made from its description, not from the catalogue
		parts = slices.DeleteFunc(slices.Clone(parts), func(m Mention) bool { return m.SKU == b.SKU })
	}
	f.Brief.known(parts, c, report)
	for _, m := range f.Parts {
		if p := c.Part(m.SKU); p != nil && p.Kind.ForBuilding() {
			report.Add(f.Brief.uncut(m, p))
		}
	}
	report.Sort(document.MostProblems)
	return v, report
}

// vehicle finds the car, and checks the places in it.
func (b *Brief) vehicle(vehicles []Vehicle, report *Report) Vehicle {
	v, ok := FindVehicle(b.Vehicle, vehicles)
	if !ok {
		names := VehicleNames(vehicles)
		report.Add(b.problem(Error, b.At("vehicle"), fmt.Sprintf("no vehicle is called %q", b.Vehicle),
			hint(units.Nearest(b.Vehicle, names), "the vehicles are "+strings.Join(names, ", "))))
		return v
	}
	if v.OpenField {
		return v
	}
	v, known, err := b.placed(v)
	switch {
	case err != nil:
		report.Add(b.problem(Error, b.At("place"), err.Error(),
			"a point is written from the front, from the left and from the floor, such as 120 40 90 cm"))
	case !known:
		names := v.Body.PlaceNames()
		report.Add(b.problem(Error, b.At("place"), fmt.Sprintf("%s has no place called %q", v.Name, b.Place),
			hint(units.Nearest(b.Place, names), "its places are "+strings.Join(names, ", ")+"; or write a point, such as 120 40 90 cm")))
	}
	if _, ok := v.Body.Openings(b.Openings); !ok {
		names := v.Body.OpeningNames()
		report.Add(b.problem(Error, b.At("openings"), fmt.Sprintf("%s cannot stand with %q", v.Name, b.Openings),
			hint(units.Nearest(b.Openings, names), "it can be "+v.Body.OpeningWords())))
	}
	return v
}

func (b *Brief) mentions(c *Catalogue, report *Report) {
	for _, list := range [...][]Mention{b.Owned, b.Must, b.Never} {
		b.known(list, c, report)
	}
	for _, m := range b.Must { // what cannot be had is no mistake of the brief: there is no build, and why is an answer
		p := c.Part(m.SKU)
		if p == nil {
			continue
		}
		owned := 0
		for _, o := range b.Owned {
			if o.SKU == m.SKU {
				owned = o.Count
			}
		}
		switch {
		case p.Kind.ForBuilding():
			report.Add(b.uncut(m, p))
		case owned >= m.Count:
		case !p.Priced:
			report.Add(b.problem(Warning, m.Where, fmt.Sprintf("%s has no price, so it cannot be bought", m.SKU),
				"give it a price in the catalogue, or name it under owned").Citing(p.Where, "the part"))
		case p.InStock() != Unlimited && m.Count-owned > p.InStock() || p.Limit != Unlimited && m.Count-owned > p.Limit:
			left := p.InStock()
			if left == Unlimited || p.Limit != Unlimited && p.Limit < left {
				left = p.Limit
			}
			report.Add(b.problem(Warning, m.Where, fmt.Sprintf("the build must have %d of %s, but only %d can be bought", m.Count, m.SKU, left),
				"ask for fewer, or mend stock and limit in the catalogue").Citing(p.Where, "the part"))
		case len(b.Stores) > 0 && p.Store != "" && !b.sellsPart(p):
			report.Add(b.problem(Warning, m.Where, fmt.Sprintf("%s is sold by %s, which is not among the stores", m.SKU, p.Store),
				"add the shop to stores, or drop the part").Citing(b.At("stores"), "the stores"))
		}
	}
	if len(b.Stores) == 0 {
		return // anywhere: the shops of ten thousand parts need not be listed
	}
	known := c.Stores()
	say := "the shops of the catalogue are " + strings.Join(known, ", ")
	if len(known) == 0 {
		say = "no part of the catalogue names a shop: leave stores out"
	}
	for i, s := range b.Stores {
		if !slices.ContainsFunc(known, func(k string) bool { return SameStore(k, s) }) {
			report.Add(b.problem(Error, b.At(storeKey(i)), fmt.Sprintf("no part is sold by %q", s),
				hint(units.Nearest(s, known), say)))
		}
	}
}

// Sells tells whether the brief allows buying from a shop.
func (b *Brief) Sells(store string) bool {
	return len(b.Stores) == 0 || slices.ContainsFunc(b.Stores, func(s string) bool { return SameStore(s, store) })
}

// sellsPart tells whether a part can be bought at one of the shops.
func (b *Brief) sellsPart(p *Part) bool {
	return b.Sells(p.Store) || slices.ContainsFunc(p.Offers, func(o Offer) bool { return b.Sells(o.Store) })
}

// Stores lists the shops of the catalogue in order.
func (c *Catalogue) Stores() []string {
	var out []string
	for _, p := range c.Parts {
		if p.Store != "" {
			out = append(out, p.Store)
		}
		for _, o := range p.Offers {
			out = append(out, o.Store)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// known reports SKUs that the catalogue has not.
func (b *Brief) known(list []Mention, c *Catalogue, report *Report) {
	for _, m := range list {
		if c.Part(m.SKU) != nil {
			continue
		}
		report.Add(b.problem(Error, m.Where, fmt.Sprintf("no part has the SKU %q", m.SKU), c.meant(m.SKU)))
	}
}

func (b *Brief) money(c *Catalogue, report *Report) {
	if b.Cap.Currency != "" && c.Currency != "" && b.Cap.Currency != c.Currency {
		report.Add(b.problem(Error, b.At("cap"), fmt.Sprintf("the cap is in %s, but the catalogue is in %s", b.Cap.Currency, c.Currency),
			"write the cap in "+c.Currency))
	}
	if len(b.Steps) > 0 && c.Currency != "" && b.Steps[0].Currency != c.Currency {
		report.Add(b.problem(Error, b.At("steps"), fmt.Sprintf("the steps are in %s, but the catalogue is in %s", b.Steps[0].Currency, c.Currency),
			"write the steps in "+c.Currency))
	}
}

// uncut refuses material where a part of a build is meant.
func (b *Brief) uncut(m Mention, p *Part) Problem {
	return b.problem(Error, m.Where, fmt.Sprintf("%s is %s%s: no build has it as it is", m.SKU, articles[p.Kind], p.Kind),
		"remove it; to have a box built of it, write build_boxes: yes in a brief, or built_box in a build").Citing(p.Where, "the part")
}

// building holds the wish for built boxes against what there is to build with.
func (b *Brief) building(c *Catalogue, report *Report) {
	if !b.BuildBoxes {
		return
	}
	for _, k := range [...]Kind{KindSheet, KindWorkshop} {
		if len(c.ByKind(k)) == 0 {
			report.Add(b.problem(Error, b.At("build_boxes"), fmt.Sprintf("boxes cannot be built: the catalogue has no %s", k),
				fmt.Sprintf("add a part with kind: %s, or write build_boxes: no", k)))
		}
	}
}

func hint(near, detail string) string {
	if near == "" {
		return detail
	}
	return fmt.Sprintf("did you mean %q?\n%s", near, detail)
}

// OpenFieldName is the name of the vehicle that is none.
const OpenFieldName = "open field"

// FindVehicle finds a vehicle by name: one of the files, else a body style with
// an assumed supply, else the open field.
func FindVehicle(name string, vehicles []Vehicle) (Vehicle, bool) {
	name = strings.TrimSpace(name)
	for _, v := range vehicles {
		if strings.EqualFold(v.Name, name) {
			return v, true
		}
	}
	if body, ok := cabin.BodyNamed(name); ok {
		return FromBody(body), true
	}
	if strings.EqualFold(name, OpenFieldName) {
		return OpenField(), true
	}
	return Vehicle{}, false
}

// VehicleNames lists all that FindVehicle finds: those of the files first.
func VehicleNames(vehicles []Vehicle) []string {
	var names []string
	for _, v := range vehicles {
		names = append(names, v.Name)
	}
	for _, b := range cabin.Bodies() {
		if !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, b.Name) }) {
			names = append(names, b.Name)
		}
	}
	return append(names, OpenFieldName)
}
