package book

import (
	"context"
	"database/sql"
	"errors"
)

// RemoveReadings forgets readings by their numbers, all of them or none.
func (b *Book) RemoveReadings(ctx context.Context, ids ...int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		for _, id := range ids {
			done, err := tx.ExecContext(ctx, `DELETE FROM reading WHERE id = ?`, id)
			if err != nil {
				return err
			}
			if n, err := done.RowsAffected(); err != nil || n == 0 {
				return errors.Join(none("reading", id), err)
			}
		}
		return nil
	})
}
