package book

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// A job is removed in two steps, so that a slip costs nothing: it leaves all
// lists and can be restored; then it can be forgotten, and with it what the law
// may demand of a customer's name.

// RemoveJob takes a job out of all lists. RestoreJob puts it back.
func (b *Book) RemoveJob(ctx context.Context, id int64) error {
	stamp, err := b.stamp(time.Time{})
	if err != nil {
		return err
	}
	return b.change(ctx, "job", id, `UPDATE job SET removed = ? WHERE id = ? AND removed = ''`, stamp, id)
}

// RestoreJob puts a removed job back.
func (b *Book) RestoreJob(ctx context.Context, id int64) error {
	return b.change(ctx, "a removed job", id, `UPDATE job SET removed = '' WHERE id = ? AND removed <> ''`, id)
}

// ForgetJob deletes a removed job, its quotes, and the catalogues that no other
// quote came from; readings stay, without their quote.
func (b *Book) ForgetJob(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		if err := changed(ctx, tx, "a removed job", id, `DELETE FROM job WHERE id = ? AND removed <> ''`, id); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM catalogue WHERE hash NOT IN (SELECT catalogue FROM quote)`)
		return err
	})
}

// SetNote writes another note for a job.
func (b *Book) SetNote(ctx context.Context, id int64, note string) error {
	if err := visible("note", note); err != nil {
		return err
	}
	return b.change(ctx, "job", id, `UPDATE job SET note = ? WHERE id = ?`, note, id)
}

// SetCustomer writes another name for the customer of a job.
func (b *Book) SetCustomer(ctx context.Context, id int64, name string) error {
	if err := visible("customer", name); err != nil {
		return err
	}
	return b.change(ctx, "job", id, `UPDATE job SET customer = ? WHERE id = ?`, name, id)
}

// change runs one statement that has to find a row.
func (b *Book) change(ctx context.Context, what string, key int64, statement string, args ...any) error {
	return b.write(ctx, func(tx *sql.Tx) error { return changed(ctx, tx, what, key, statement, args...) })
}

func changed(ctx context.Context, tx *sql.Tx, what string, key int64, statement string, args ...any) error {
	done, err := tx.ExecContext(ctx, statement, args...)
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return errors.Join(none(what, key), err)
	}
	return nil
}
