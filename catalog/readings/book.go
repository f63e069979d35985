package readings

import (
	"context"
	"fmt"
	"strings"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
)

// Readings in the job book.

// bookName is how messages name the book; the number of the reading stands
// for the line.
const bookName = "job book"

// noted is the note with the real power, for which the book has no column.
func (r *Reading) noted() string {
	if r.Watts == 0 {
		return r.Note
	}
	return strings.TrimPrefix(r.Note+"; ", "; ") + fmt.Sprintf("real power %g W", r.Watts)
}

// Book adds readings to the job book, in their order, all of them or none, and
// gives their numbers; those that were in it already are not added again.
func Book(ctx context.Context, b *book.Book, list []Reading) ([]book.Added, error) {
	booked := make([]book.Reading, len(list))
	for i := range list {
		r := &list[i]
		taken := time.Time{} // now
		if !r.Date.IsZero() {
			taken = time.Date(r.Date.Year, r.Date.Month, r.Date.Day, 0, 0, 0, 0, time.UTC)
		}
		booked[i] = book.Reading{Taken: taken, Vehicle: r.Vehicle, Quote: r.Quote, Build: r.Build, Place: r.Place, Openings: r.Openings,
			Frequency: r.Frequency, Level: r.Level, Tolerance: r.Tolerance, ClampVolts: r.Volts, Amps: r.Amps, SupplyVolts: r.Supply, Note: r.noted()}
	}
	return b.AddReadings(ctx, booked)
}

// FromBook gives the readings of a vehicle, or of all for an empty name, in
// the order of time.
func FromBook(ctx context.Context, b *book.Book, vehicle string) ([]Reading, error) {
	all, err := b.Readings(ctx, vehicle)
	if err != nil {
		return nil, err
	}
	list := make([]Reading, len(all))
	for i, r := range all {
		list[i] = Reading{ID: r.ID, Date: prices.DateOf(r.Taken.UTC()), Vehicle: r.Vehicle, Quote: r.Quote, Build: r.Build, Place: r.Place, Openings: r.Openings,
			Frequency: r.Frequency, Level: r.Level, Tolerance: r.Tolerance, Volts: r.ClampVolts, Amps: r.Amps, Supply: r.SupplyVolts, Note: r.Note,
			Where: catalog.Position{File: fmt.Sprintf("%s, reading %d", bookName, r.ID)}}
	}
	return list, nil
}
