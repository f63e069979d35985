package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"
)

// What was uploaded can be taken back, the latest first: the book keeps how
// prices and files of parts were before. Files are written by whoever uploads
// them; the book only remembers.

// Upload is one upload that was taken.
type Upload struct {
	ID     int64
	Name   string // of what was uploaded
	Target string // the file of parts that it changed; empty: the prices of the book
	Before []byte // content of that file; nil: there was none
	After  string // what tells the file as the upload left it, such as a hash
	Taken  time.Time
}

// Prices tells whether the upload was one of prices.
func (u *Upload) Prices() bool { return u.Target == "" }

// mostUploads are kept; older ones cannot be taken back any more.
const mostUploads = 20

// KeepUpload remembers a file of parts as it was before an upload.
func (b *Book) KeepUpload(ctx context.Context, u Upload) (id int64, err error) {
	if u.Target == "" {
		return 0, errors.New("book: an upload of parts without its file")
	}
	stamp, err := b.stamp(u.Taken)
	if err != nil {
		return 0, err
	}
	var before []byte
	if u.Before != nil {
		before = pack(u.Before)
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		id, err = insertUpload(ctx, tx, u.Name, u.Target, before, u.After, stamp)
		return err
	})
	return id, err
}

func insertUpload(ctx context.Context, tx *sql.Tx, name, target string, before []byte, after, stamp string) (id int64, err error) {
	err = tx.QueryRowContext(ctx, `INSERT INTO upload (name, target, before, after, taken) VALUES (?, ?, ?, ?, ?) RETURNING id`, name, target, before, after, stamp).Scan(&id)
	if err == nil {
		_, err = tx.ExecContext(ctx, `DELETE FROM upload WHERE id <= ?`, id-mostUploads)
	}
	return id, err
}

// Uploads are those that can be taken back, the latest last.
func (b *Book) Uploads(ctx context.Context) ([]Upload, error) {
	return collect(ctx, b, func(row *sql.Rows) (u Upload, err error) {
		var before []byte
		var taken string
		if err := row.Scan(&u.ID, &u.Name, &u.Target, &before, &u.After, &taken); err != nil {
			return u, err
		}
		u.Taken = unstamped(taken)
		if before != nil {
			u.Before, err = b.unpack(before, "a file before an upload")
		}
		return u, err
	}, `SELECT id, name, target, before, after, taken FROM upload ORDER BY id`)
}

// TakeBack forgets the latest upload; with one of prices their rows are as they
// were before. restore puts back the file of one of parts, while others wait to
// write; it is called again if the book could not be written after it.
func (b *Book) TakeBack(ctx context.Context, id int64, restore func(Upload) error) error {
	all, err := b.Uploads(ctx)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(all, func(u Upload) bool { return u.ID == id })
	switch {
	case at < 0:
		return none("upload", id)
	case at < len(all)-1:
		return fmt.Errorf("upload %d came after it: take back the latest first", all[at+1].ID)
	}
	stamp, err := b.stamp(time.Time{})
	if err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		if err := changed(ctx, tx, "upload", id, `DELETE FROM upload WHERE id = ? AND id = (SELECT max(id) FROM upload)`, id); err != nil {
			return err
		}
		if u := all[at]; !u.Prices() {
			return restore(u)
		}
		return restorePrices(ctx, tx, all[at].Before, stamp)
	})
}

// rowChange is a row of prices before and after an upload.
type rowChange struct {
	SKU, Store, Day string
	Before, After   rowKept // Before of a row that was not there says nothing
}

// rowKept is what a row says, as it is kept.
type rowKept struct {
	Price    *int64
	Currency *string
	Stock    *int64
	Source   string
}

func kept(r *priceRow) rowKept {
	k := rowKept{Source: r.source}
	if r.price.Valid {
		k.Price, k.Currency = &r.price.Int64, &r.currency.String
	}
	if r.stock.Valid {
		k.Stock = &r.stock.Int64
	}
	return k
}

// there tells whether it is a row: one that says nothing is none.
func (k *rowKept) there() bool { return k.Price != nil || k.Stock != nil }

func keepPrices(ctx context.Context, tx *sql.Tx, name string, rows []rowChange, stamp string) (int64, error) {
	text, err := json.Marshal(rows)
	if err != nil {
		return 0, err
	}
	return insertUpload(ctx, tx, name, "", pack(text), "", stamp)
}

// restorePrices puts the rows back, the last first: a list may say two things of one
// row. A row that was changed since by another way would be lost with that.
func restorePrices(ctx context.Context, tx *sql.Tx, text []byte, stamp string) error {
	var rows []rowChange
	if err := json.Unmarshal(text, &rows); err != nil {
		return err
	}
	for _, c := range slices.Backward(rows) {
		done, err := tx.ExecContext(ctx, `DELETE FROM price WHERE sku = ? AND store = ? AND day = ? AND price IS ? AND currency IS ? AND stock IS ?`,
			c.SKU, c.Store, c.Day, c.After.Price, c.After.Currency, c.After.Stock)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return errors.Join(fmt.Errorf("the row for %s on %s was changed after the upload: taking it back would lose that", c.SKU, c.Day), err)
		}
		if !c.Before.there() {
			continue
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO price (sku, store, day, price, currency, stock, source, added) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			c.SKU, c.Store, c.Day, c.Before.Price, c.Before.Currency, c.Before.Stock, c.Before.Source, stamp)
		if err != nil {
			return err
		}
	}
	return nil
}
