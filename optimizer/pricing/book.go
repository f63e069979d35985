package pricing

import (
	"errors"
	"fmt"

	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// Book is what the parts of a catalogue cost one customer: the shelf, the till
// and the deals.
type Book struct {
	*setting.Setting

	Shelf       *Shelf
	Tax         TaxTotals
	Deals       []*Deal
	NonAdditive bool    // prices do not add up: there are deals, or parts with several prices
	Limit       int64   // largest sum of weighed prices
	Musts       []*Item // that must be in the build
}

// Open prices the catalogue of a problem; errors are what makes the
// question itself senseless.
func Open(p build.Problem, r setting.Relaxation) (*Book, error) {
	t := &Book{Setting: setting.New(p, r)}
	if err := t.check(); err != nil {
		return nil, err
	}
	if err := t.Stock(); err != nil {
		return nil, err
	}
	if err := errors.Join(t.tooFine(), t.ApplyDeals()); err != nil {
		return nil, err
	}
	return t, nil
}

// Stock puts the parts on the shelf with their prices, deals apart.
func (t *Book) Stock() (err error) {
	if t.Shelf, err = stockShelf(t.Problem.Catalogue, &t.Brief, t.Relaxed); err != nil {
		return err
	}
	t.Tax = newTaxTotals(&t.Brief, &t.Vehicle)
	t.Limit = t.Tax.Limit(t.Brief.Cap)
	t.applyPrices()
	return nil
}

// check finds what makes the question itself senseless.
func (t *Book) check() error {
	var all []error
	if c := t.Brief.Cap.Currency; c != "" && t.Problem.Catalogue.Currency != "" && c != t.Problem.Catalogue.Currency {
		all = append(all, fmt.Errorf("the cap is in %s and the catalogue in %s", c, t.Problem.Catalogue.Currency))
	}
	all = append(all, checkTill(&t.Brief, &t.Vehicle, t.Problem.Catalogue.Currency)...)
	if t.Brief.Cap.Minor < 0 {
		all = append(all, errors.New("the cap is negative"))
	}
	return errors.Join(all...)
}
