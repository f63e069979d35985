package workshop

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"

	"loudfor/catalog"
	"loudfor/model/enclosure"
	"loudfor/model/joinery"
)

// From a description to a part: the joinery says what the box is, the sheet and
// the workshop what it costs.

// Box is a built box and the part that stands for it.
type Box struct {
	Part        *catalog.Part // the enclosure
	Description catalog.BuiltBox
	Driver      *catalog.Part
	Sheet       *catalog.Part
	Workshop    *catalog.Part
	Joinery     *joinery.Box
	Nesting     joinery.Nesting
	Material    catalog.Money
	Work        catalog.Money
	Hours       float64
	Weight      float64 // kg, of the wood; 0: the density is not stated
	priced      bool    // neither material nor work lacks a price
}

// Fault says what of a description cannot be, and under which of its keys.
type Fault struct{ Key, Summary, Detail string }

func (f *Fault) Error() string { return f.Summary + ": " + f.Detail }

// Make works out a described box with the parts of a catalogue. brief says what
// the customer owns. Whether shops, stock and space allow it is not asked: the
// error is a *Fault for what cannot be built at all.
func Make(c *catalog.Catalogue, brief *catalog.Brief, b catalog.BuiltBox) (*Box, error) {
	out := &Box{Description: b}
	for _, p := range []struct {
		key, sku string
		kind     catalog.Kind
		to       **catalog.Part
	}{{"driver", b.Driver, catalog.KindSubwoofer, &out.Driver}, {"sheet", b.Sheet, catalog.KindSheet, &out.Sheet}, {"workshop", b.Workshop, catalog.KindWorkshop, &out.Workshop}} {
		part := c.Part(p.sku)
		switch {
		case part == nil:
			return nil, &Fault{p.key, fmt.Sprintf("no part has the SKU %q", p.sku), "name a part of the catalogue of the kind " + p.kind.String()}
		case part.Kind != p.kind:
			return nil, &Fault{p.key, fmt.Sprintf("%s is of the kind %s", p.sku, part.Kind), "name one of the kind " + p.kind.String()}
		}
		*p.to = part
	}
	if c.Part(b.SKU) != nil {
		return nil, &Fault{"sku", fmt.Sprintf("%s is a part of the catalogue", b.SKU), "give the built box a name of its own"}
	}
	var err error
	if out.Joinery, err = design(b, out.Driver, out.Sheet).Build(); err != nil {
		return nil, faultOf(err)
	}
	if err := out.cut(brief); err != nil {
		return nil, err
	}
	out.describe(c.Currency)
	return out, nil
}

// design is the box as the joinery takes it.
func design(b catalog.BuiltBox, driver, sheet *catalog.Part) joinery.Design {
	return joinery.Design{
		Outside:   joinery.Size{b.Outside.Width, b.Outside.Depth, b.Outside.Height},
		Thickness: sheet.Sheet.Thickness, Drivers: b.Holes, Mount: mount(driver),
		Slot: b.Slot, Tube: b.Tube, PortLength: b.PortLength,
	}
}

func mount(driver *catalog.Part) joinery.Mount {
	s := driver.Subwoofer
	return joinery.Mount{Size: s.Card.Size, Cutout: s.Cutout, Depth: s.Depth, Displacement: s.Displacement}
}

// keyOf is the key of a description that a quantity of the joinery belongs to.
var keyOf = map[string]string{
	"thickness": "sheet", "sheet length": "sheet", "sheet width": "sheet", "slot width": "slot", "tube": "tube",
	"port length": "port_length", "port width": "slot", "port height": "slot", "port diameter": "tube", "port area": "slot",
	"driver's depth": "driver",
}

func faultOf(err error) error {
	var j *joinery.Error
	var e *enclosure.Error
	quantity := ""
	switch {
	case errors.As(err, &j):
		quantity = j.Quantity
	case errors.As(err, &e):
		quantity = e.Quantity
	}
	key := keyOf[quantity]
	if key == "" {
		key = "outside"
	}
	summary, detail, ok := strings.Cut(err.Error(), ": ")
	if !ok {
		detail = "mend the size of the box"
	}
	return &Fault{key, "the box cannot be built: " + summary, detail}
}

// cut nests the panels and adds up material and work.
func (b *Box) cut(brief *catalog.Brief) error {
	sheet, shop := b.Sheet.Sheet, b.Workshop.Workshop
	n, err := joinery.Nest(b.Joinery.Panels, joinery.Stock{Length: sheet.Length, Width: sheet.Width, Kerf: shop.Kerf})
	if err != nil {
		return faultOf(err)
	}
	b.Nesting = n
	b.Weight = b.Joinery.Weight(sheet.Density)
	ports := 0.0
	if b.Joinery.Design.Vented() {
		ports = 1
	}
	seconds := shop.PerBox + shop.PerPanel*float64(len(b.Joinery.Panels)) + shop.PerHole*float64(b.Joinery.Design.Drivers) + shop.PerPort*ports
	b.Hours = seconds / 3600
	b.Material, b.Work = b.Sheet.Price, b.Workshop.Price
	if owned(brief, b.Workshop.SKU) > 0 {
		b.Work.Minor = 0
	}
	b.Work.Minor = perHour(b.Work.Minor, seconds)
	buy := max(0, n.Sheets-owned(brief, b.Sheet.SKU))
	b.priced = (buy == 0 || b.Sheet.Priced) && (b.Workshop.Priced || owned(brief, b.Workshop.SKU) > 0)
	switch {
	case buy == 0:
		b.Material.Minor = 0
	case sheet.ByArea:
		b.Material.Minor = int64(math.Ceil(float64(b.Sheet.Price.Minor) * n.Used / (sheet.Length * sheet.Width)))
	default:
		b.Material.Minor *= int64(buy)
	}
	return nil
}

// perHour is the price of some seconds, rounded half up.
func perHour(hour int64, seconds float64) int64 {
	// Milliseconds are exact, whatever the times were written in.
	sum := new(big.Int).Mul(big.NewInt(hour), big.NewInt(int64(math.Round(1000*seconds))))
	sum.Add(sum, big.NewInt(3600*1000/2))
	return sum.Div(sum, big.NewInt(3600*1000)).Int64()
}

func owned(brief *catalog.Brief, sku string) (n int) {
	for _, m := range brief.Owned {
		if m.SKU == sku {
			n += max(m.Count, 1)
		}
	}
	return n
}

// describe makes the part.
func (b *Box) describe(currency string) {
	j, d := b.Joinery, b.Description
	drivers := "one driver"
	if d.Holes > 1 {
		drivers = fmt.Sprintf("%d drivers", d.Holes)
	}
	b.Material.Currency, b.Work.Currency = currency, currency
	b.Part = &catalog.Part{
		SKU: d.SKU, Kind: catalog.KindEnclosure, Store: b.Workshop.Store, Where: d.Where,
		Name:   fmt.Sprintf("built %s box for %s, %s", j.Enclosure.Kind, drivers, d.Outside),
		Price:  catalog.Money{Minor: b.Material.Minor + b.Work.Minor, Currency: currency},
		Priced: b.priced, Stock: catalog.Unlimited, Limit: catalog.Unlimited,
		Enclosure: &catalog.Enclosure{Box: j.Enclosure, Hole: j.Design.Mount.Size, Depth: j.Room, Outside: d.Outside},
	}
	b.Part.Enclosure.Cutout, _ = j.Design.Mount.Hole()
}
