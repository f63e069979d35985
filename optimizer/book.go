package optimizer

import (
	"errors"
	"fmt"

	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// book is what the parts of a catalogue cost one customer: the shelf, the till
// and the deals.
type book struct {
	*setting.Setting

	shelf  *shelf
	till   till
	offers []*offer
	bends  bool    // prices do not add up: there are deals, or parts with several prices
	limit  int64   // largest sum of weighed prices
	musts  []*item // that must be in the build
}

// openBook prices the catalogue of a problem; errors are what makes the
// question itself senseless.
func openBook(p build.Problem, r setting.Relaxation) (*book, error) {
	t := &book{Setting: setting.New(p, r)}
	if err := t.check(); err != nil {
		return nil, err
	}
	if err := t.stock(); err != nil {
		return nil, err
	}
	if err := errors.Join(t.tooFine(), t.haggle()); err != nil {
		return nil, err
	}
	return t, nil
}

// listMusts finds what must be in the build.
func (t *book) listMusts() {
	for _, it := range t.shelf.items {
		if it.must > 0 {
			t.musts = append(t.musts, it)
		}
	}
}

// stock puts the parts on the shelf with their prices, deals apart.
func (t *book) stock() (err error) {
	if t.shelf, err = stockShelf(t.Problem.Catalogue, &t.Brief, t.Relaxed); err != nil {
		return err
	}
	t.till = newTill(&t.Brief, &t.Vehicle)
	t.limit = t.till.limit(t.Brief.Cap)
	t.ring()
	return nil
}

// check finds what makes the question itself senseless.
func (t *book) check() error {
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

// largestTax, in millionths, is ten times the price: beyond it a unit slipped.
const largestTax = 10 * million
