package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"
)

// Reading is what the meters showed in one car. Values that were not measured
// are zero.
type Reading struct {
	ID          int64
	Taken       time.Time // zero when added: now
	Vehicle     string
	Quote       int64  // the build that was metered; 0: see Build
	Build       string // its parts in words
	Place       string
	Openings    string
	Frequency   float64 // Hz
	Level       float64 // dB
	Tolerance   float64 // dB, of the meter
	ClampVolts  float64 // V rms at the amplifier's output
	Amps        float64 // A rms from the amplifier's output
	SupplyVolts float64 // V at the amplifier's supply
	Note        string
}

// Added is a reading's number in the book.
type Added struct {
	ID    int64
	Known bool // the book held the very same reading before
}

// AddReadings books readings, all of them or none. One that is the same in every
// value as one of the book, and of the same time if it states any, is the same
// reading, so that a file can be added again without harm; two that are the same
// in one list are two.
func (b *Book) AddReadings(ctx context.Context, list []Reading) (added []Added, err error) {
	stamps := make([]string, len(list))
	for i := range list {
		if stamps[i], err = b.soundReading(&list[i]); err != nil {
			return nil, fmt.Errorf("reading %d of %d: %w", i+1, len(list), err)
		}
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		added = make([]Added, len(list))
		had := known{}
		for i := range list {
			if err := had.gather(ctx, tx, list[i].Vehicle); err != nil {
				return err
			}
			id := had.take(&list[i], stamps[i])
			added[i] = Added{id, id != 0}
			if id == 0 {
				if added[i].ID, err = insertReading(ctx, tx, &list[i], stamps[i]); err != nil {
					return fmt.Errorf("reading %d of %d: %w", i+1, len(list), err)
				}
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return added, nil
}

// soundReading gives the time of a reading whose values are numbers.
func (b *Book) soundReading(r *Reading) (string, error) {
	for _, v := range [...]float64{r.Frequency, r.Level, r.Tolerance, r.ClampVolts, r.Amps, r.SupplyVolts} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "", errors.New("book: a value of a reading is not a number")
		}
	}
	return b.stamp(r.Taken)
}

func insertReading(ctx context.Context, tx *sql.Tx, r *Reading, stamp string) (id int64, err error) {
	if r.Quote != 0 {
		var there int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM quote WHERE id = ?`, r.Quote).Scan(&there); err != nil {
			return 0, err
		}
		if there == 0 {
			return 0, none("quote", r.Quote)
		}
	}
	err = tx.QueryRowContext(ctx, `INSERT INTO reading (taken, vehicle, quote, build, place, openings, frequency, level, tolerance, clamp_volts, amps, supply_volts, note)
		VALUES (?, ?, nullif(?, 0), ?, ?, ?, ?, ?, nullif(?, 0.0), nullif(?, 0.0), nullif(?, 0.0), nullif(?, 0.0), ?) RETURNING id`,
		stamp, r.Vehicle, r.Quote, r.Build, r.Place, r.Openings, r.Frequency, r.Level, r.Tolerance, r.ClampVolts, r.Amps, r.SupplyVolts, r.Note).Scan(&id)
	return id, err
}

// known are the readings of some vehicles, by vehicle and by their values
// without number and time.
type known map[string]map[Reading][]booked

type booked struct {
	id    int64
	taken string
}

// gather reads what the book has of a vehicle, once.
func (k known) gather(ctx context.Context, tx *sql.Tx, vehicle string) error {
	if k[vehicle] != nil {
		return nil
	}
	k[vehicle] = map[Reading][]booked{}
	rows, err := tx.QueryContext(ctx, readingColumns+` WHERE vehicle = ? ORDER BY id`, vehicle)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		r, taken, err := scanReading(rows)
		if err != nil {
			return err
		}
		id := r.ID
		r.ID, r.Taken = 0, time.Time{}
		k[vehicle][r] = append(k[vehicle][r], booked{id, taken})
	}
	return rows.Err()
}

// take gives the number of a row that is the same as a reading, and that none
// before it was; 0 if there is none. One that states no time is the same whenever
// it was booked.
func (k known) take(r *Reading, stamp string) (id int64) {
	key := *r
	key.ID, key.Taken = 0, time.Time{}
	rows := k[r.Vehicle][key]
	for i, b := range rows {
		if r.Taken.IsZero() || b.taken == stamp {
			k[r.Vehicle][key] = slices.Delete(rows, i, i+1)
			return b.id
		}
	}
	return 0
}

const readingColumns = `SELECT id, taken, vehicle, coalesce(quote, 0), build, place, openings, frequency, level, coalesce(tolerance, 0.0), coalesce(clamp_volts, 0.0),
	coalesce(amps, 0.0), coalesce(supply_volts, 0.0), note FROM reading`

func scanReading(row *sql.Rows) (r Reading, taken string, err error) {
	err = row.Scan(&r.ID, &taken, &r.Vehicle, &r.Quote, &r.Build, &r.Place, &r.Openings, &r.Frequency, &r.Level, &r.Tolerance, &r.ClampVolts, &r.Amps, &r.SupplyVolts, &r.Note)
	r.Taken = unstamped(taken)
	return r, taken, err
}

// Readings lists the readings of a vehicle, or of all for an empty name, in the
// order of time.
func (b *Book) Readings(ctx context.Context, vehicle string) ([]Reading, error) {
	return collect(ctx, b, func(row *sql.Rows) (Reading, error) {
		r, _, err := scanReading(row)
		return r, err
	}, readingColumns+` WHERE ?1 = '' OR vehicle = ?1 ORDER BY taken, id`, vehicle)
}
