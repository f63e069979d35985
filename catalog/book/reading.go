package book

import (
	"context"
	"database/sql"
	"errors"
	"math"
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

// AddReading books a reading.
func (b *Book) AddReading(ctx context.Context, r Reading) (id int64, err error) {
	for _, v := range [...]float64{r.Frequency, r.Level, r.Tolerance, r.ClampVolts, r.Amps, r.SupplyVolts} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, errors.New("book: a value of a reading is not a number")
		}
	}
	taken, err := b.stamp(r.Taken)
	if err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		if r.Quote != 0 {
			var there int
			if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM quote WHERE id = ?`, r.Quote).Scan(&there); err != nil {
				return err
			}
			if there == 0 {
				return none("quote", r.Quote)
			}
		}
		return tx.QueryRowContext(ctx, `INSERT INTO reading (taken, vehicle, quote, build, place, openings, frequency, level, tolerance, clamp_volts, amps, supply_volts, note)
			VALUES (?, ?, nullif(?, 0), ?, ?, ?, ?, ?, nullif(?, 0.0), nullif(?, 0.0), nullif(?, 0.0), nullif(?, 0.0), ?) RETURNING id`,
			taken, r.Vehicle, r.Quote, r.Build, r.Place, r.Openings, r.Frequency, r.Level, r.Tolerance, r.ClampVolts, r.Amps, r.SupplyVolts, r.Note).Scan(&id)
	})
	return id, err
}

// Readings lists the readings of a vehicle, or of all for an empty name, in the
// order of time.
func (b *Book) Readings(ctx context.Context, vehicle string) ([]Reading, error) {
	return collect(ctx, b, func(row *sql.Rows) (r Reading, err error) {
		var taken string
		err = row.Scan(&r.ID, &taken, &r.Vehicle, &r.Quote, &r.Build, &r.Place, &r.Openings, &r.Frequency, &r.Level, &r.Tolerance, &r.ClampVolts, &r.Amps, &r.SupplyVolts, &r.Note)
		r.Taken = unstamped(taken)
		return r, err
	}, `SELECT id, taken, vehicle, coalesce(quote, 0), build, place, openings, frequency, level, coalesce(tolerance, 0.0), coalesce(clamp_volts, 0.0),
		coalesce(amps, 0.0), coalesce(supply_volts, 0.0), note FROM reading WHERE ?1 = '' OR vehicle = ?1 ORDER BY taken, id`, vehicle)
}
