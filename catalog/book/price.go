package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/prices"
)

// Prices are kept as lists stated them, one row for each part, shop and day;
// a price and a stock of one day that came in two lists make one row.

// AddPrices records the rows of price lists. Rows that are there already are
// no mistake; a row that says something else of the same part, shop and day
// is, and then nothing is recorded. It gives how many rows were new or said
// more.
func (b *Book) AddPrices(ctx context.Context, entries []prices.Entry) (recorded int, err error) {
	_, recorded, err = b.addPrices(ctx, "", entries, false)
	return recorded, err
}

// CorrectPrices records rows in place of what the book says of the same part,
// shop and day.
func (b *Book) CorrectPrices(ctx context.Context, entries []prices.Entry) (recorded int, err error) {
	_, recorded, err = b.addPrices(ctx, "", entries, true)
	return recorded, err
}

// UploadPrices does what AddPrices does, or CorrectPrices, and keeps how the rows
// were before; see TakeBack. Without a new row there is no upload, and its number
// is 0.
func (b *Book) UploadPrices(ctx context.Context, name string, entries []prices.Entry, correct bool) (upload int64, recorded int, err error) {
	return b.addPrices(ctx, name, entries, correct)
}

func (b *Book) addPrices(ctx context.Context, name string, entries []prices.Entry, correct bool) (upload int64, recorded int, err error) {
	added, err := b.stamp(time.Time{})
	if err != nil {
		return 0, 0, err
	}
	var changes []rowChange
	err = b.write(ctx, func(tx *sql.Tx) error {
		recorded, changes = 0, nil
		put, err := tx.PrepareContext(ctx, `INSERT OR REPLACE INTO price (sku, store, day, price, currency, stock, source, added) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`)
		if err != nil {
			return err
		}
		defer put.Close()
		report, rows := &catalog.Report{}, priceRows{}
		for _, e := range entries {
			if e.SKU == "" || e.Date.IsZero() || !e.Priced && e.Stock < 0 {
				return fmt.Errorf("book: a price without a SKU, a day or anything to say: %+v", e)
			}
			if err := rows.gather(ctx, tx, e.SKU); err != nil {
				return err
			}
			at := priceDay{catalog.StoreKey(e.Store), e.Date.String()}
			new := rowOf(&e)
			old, there := rows[e.SKU][at]
			if there {
				new.store = old.store // as it is spelt
			}
			if !correct && old.contradicts(&new) {
				report.Add(catalog.Problem{Summary: fmt.Sprintf("the job book has another row for %s on %s: %s", e.SKU, e.Date, old.String()),
					Detail: "it came from " + old.source + "; correct the list, or record it as a correction", Where: e.Where, Text: e.SKU})
				continue
			}
			if old.fill(&new); old.says(&new) {
				continue
			}
			if _, err := put.ExecContext(ctx, e.SKU, new.store, at.day, new.price, new.currency, new.stock, new.source, added); err != nil {
				return err
			}
			if name != "" {
				changes = append(changes, rowChange{e.SKU, new.store, at.day, kept(&old), kept(&new)})
			}
			rows[e.SKU][at] = new
			recorded++
		}
		if err := oneCurrency(ctx, tx, entries, report); err != nil {
			return err
		}
		report.Sort(0)
		if err := report.Err(); err != nil || len(changes) == 0 {
			return err
		}
		upload, err = keepPrices(ctx, tx, name, changes, added)
		return err
	})
	if err != nil {
		upload, recorded = 0, 0
	}
	return upload, recorded, err
}

// oneCurrency reports prices in two currencies: no catalogue could use both.
func oneCurrency(ctx context.Context, tx *sql.Tx, entries []prices.Entry, report *catalog.Report) error {
	i := slices.IndexFunc(entries, func(e prices.Entry) bool { return e.Priced })
	if i < 0 {
		return nil
	}
	e, other := &entries[i], priceRow{}
	err := tx.QueryRowContext(ctx, `SELECT currency, source FROM price WHERE currency <> ? ORDER BY sku, store, day LIMIT 1`, e.Price.Currency).Scan(&other.currency, &other.source)
	if err == sql.ErrNoRows {
		return nil
	}
	if err == nil {
		report.Add(catalog.Problem{Summary: fmt.Sprintf("%s costs %s, but other prices are in %s", e.SKU, e.Price, other.currency.String),
			Detail: "one came from " + other.source + "; write all prices in one currency", Where: e.Where, Text: e.SKU})
	}
	return err
}

// priceRows are what the book has, by part, shop and day.
type priceRows map[string]map[priceDay]priceRow

type priceDay struct{ store, day string }

// gather reads the rows of a part, once.
func (p priceRows) gather(ctx context.Context, tx *sql.Tx, sku string) error {
	if p[sku] != nil {
		return nil
	}
	p[sku] = map[priceDay]priceRow{}
	rows, err := tx.QueryContext(ctx, `SELECT store, day, price, currency, stock, source FROM price WHERE sku = ? ORDER BY store, day`, sku)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var r priceRow
		var day string
		if err := rows.Scan(&r.store, &day, &r.price, &r.currency, &r.stock, &r.source); err != nil {
			return err
		}
		p[sku][priceDay{catalog.StoreKey(r.store), day}] = r
	}
	return rows.Err()
}

// priceRow is what a row states; each part may be missing.
type priceRow struct {
	store    string
	price    sql.NullInt64
	currency sql.NullString
	stock    sql.NullInt64
	source   string
}

func rowOf(e *prices.Entry) priceRow {
	return priceRow{
		store:    e.Store,
		price:    sql.NullInt64{Int64: e.Price.Minor, Valid: e.Priced},
		currency: sql.NullString{String: e.Price.Currency, Valid: e.Priced},
		stock:    sql.NullInt64{Int64: int64(e.Stock), Valid: e.Stock != catalog.Unlimited},
		source:   e.Where.String(),
	}
}

// contradicts tells whether both state a thing and differ in it.
func (r *priceRow) contradicts(s *priceRow) bool {
	return r.price.Valid && s.price.Valid && (r.price != s.price || r.currency != s.currency) || r.stock.Valid && s.stock.Valid && r.stock != s.stock
}

// fill adds to a new row what only the old one states.
func (r *priceRow) fill(s *priceRow) {
	if !s.price.Valid {
		s.price, s.currency = r.price, r.currency
	}
	if !s.stock.Valid {
		s.stock = r.stock
	}
}

// says tells whether a row already states all that another does.
func (r *priceRow) says(s *priceRow) bool {
	return r.price == s.price && r.currency == s.currency && r.stock == s.stock
}

func (r *priceRow) money() catalog.Money {
	return catalog.Money{Minor: r.price.Int64, Currency: r.currency.String}
}

func (r *priceRow) entry() prices.Entry {
	e := prices.Entry{Price: r.money(), Priced: r.price.Valid, Stock: catalog.Unlimited, Where: catalog.Position{File: r.source}}
	if r.stock.Valid {
		e.Stock = int(r.stock.Int64)
	}
	return e
}

// String says what the row states, as an offer is written.
func (r *priceRow) String() string {
	e := r.entry()
	return prices.Offer{Price: e.Price, Priced: e.Priced, Stock: e.Stock}.String()
}

// PriceList gives the whole history as one price list, to lay over a
// catalogue. Of one day, the row that names no shop comes first: one that names
// the part's own says more.
func (b *Book) PriceList(ctx context.Context) (*prices.List, error) {
	all, err := b.entries(ctx, ``)
	return &prices.List{Name: b.path, Entries: all, Recorded: true}, err
}

func (b *Book) entries(ctx context.Context, where string, args ...any) ([]prices.Entry, error) {
	return collect(ctx, b, func(row *sql.Rows) (prices.Entry, error) {
		var r priceRow
		var sku, store, day string
		if err := row.Scan(&sku, &store, &day, &r.price, &r.currency, &r.stock, &r.source); err != nil {
			return prices.Entry{}, err
		}
		e := r.entry()
		e.SKU, e.Store = sku, store
		if err := e.Date.UnmarshalText([]byte(day)); err != nil {
			return e, damaged(b.path, "a price is dated "+day)
		}
		return e, nil
	}, `SELECT sku, store, day, price, currency, stock, source FROM price `+where+` ORDER BY sku, day, store`, args...)
}
