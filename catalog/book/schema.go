package book

import (
	"context"
	"database/sql"
	"fmt"
)

// The tables, as the steps that lead to them: step n turns a book of version
// n-1 into one of version n. A step that has been used by anybody is never
// changed; what is to be different comes as a further step, and
// testdata/version-n.sql keeps a book of each version for the test.
//
// Values are in SI units, sums in minor units, days as 2025-03-09, times as
// 2025-03-09T08:15:00.000Z. STRICT tables refuse a text in a column of
// numbers.
var steps = []string{`
CREATE TABLE job (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  name     TEXT NOT NULL,            -- of the brief
  customer TEXT NOT NULL,
  file     TEXT NOT NULL,            -- the name that the brief had
  brief    TEXT NOT NULL,            -- its text as given
  note     TEXT NOT NULL,
  added    TEXT NOT NULL
) STRICT;

-- Files that the brief needs: the vehicles, a measured curve.
CREATE TABLE attachment (
  job     INTEGER NOT NULL REFERENCES job ON DELETE CASCADE,
  name    TEXT NOT NULL,
  content BLOB NOT NULL,             -- compressed
  PRIMARY KEY (job, name)
) STRICT, WITHOUT ROWID;

-- A state of the catalogue; the hash is that of the text before compression.
CREATE TABLE catalogue (
  hash    TEXT NOT NULL PRIMARY KEY,
  parts   INTEGER NOT NULL,
  content BLOB NOT NULL,             -- the file of parts, compressed
  added   TEXT NOT NULL
) STRICT;

CREATE TABLE quote (
  id        INTEGER PRIMARY KEY AUTOINCREMENT,
  job       INTEGER NOT NULL REFERENCES job ON DELETE CASCADE,
  catalogue TEXT NOT NULL REFERENCES catalogue,
  objective TEXT NOT NULL,           -- reading or music
  level     REAL NOT NULL,           -- dB, of the objective
  price     INTEGER NOT NULL,
  currency  TEXT NOT NULL,
  form      TEXT NOT NULL,           -- which form of JSON the answer has
  answer    BLOB NOT NULL,           -- JSON as given to the customer, compressed
  printed   BLOB NOT NULL,           -- text as given to the customer, compressed
  quoted    TEXT NOT NULL
) STRICT;
CREATE INDEX quote_job ON quote (job, id);
CREATE INDEX quote_catalogue ON quote (catalogue);

CREATE TABLE quote_line (
  quote    INTEGER NOT NULL REFERENCES quote ON DELETE CASCADE,
  position INTEGER NOT NULL,
  sku      TEXT NOT NULL,
  count    INTEGER NOT NULL,
  owned    INTEGER NOT NULL,
  PRIMARY KEY (quote, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX quote_line_sku ON quote_line (sku);

CREATE TABLE price (
  sku      TEXT NOT NULL,
  store    TEXT NOT NULL COLLATE NOCASE, -- empty: not stated
  day      TEXT NOT NULL,
  price    INTEGER,                      -- NULL: not stated
  currency TEXT,
  stock    INTEGER,                      -- NULL: not stated
  source   TEXT NOT NULL,                -- the list and the row
  added    TEXT NOT NULL,
  PRIMARY KEY (sku, store, day),
  CHECK ((price IS NULL) = (currency IS NULL)),
  CHECK (price IS NOT NULL OR stock IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE reading (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  taken        TEXT NOT NULL,
  vehicle      TEXT NOT NULL,
  quote        INTEGER REFERENCES quote ON DELETE SET NULL,
  build        TEXT NOT NULL,        -- parts in words where there is no quote
  place        TEXT NOT NULL,
  openings     TEXT NOT NULL,
  frequency    REAL NOT NULL,        -- Hz
  level        REAL NOT NULL,        -- dB
  tolerance    REAL,                 -- dB, of the meter
  clamp_volts  REAL,
  amps         REAL,
  supply_volts REAL,
  note         TEXT NOT NULL
) STRICT;
CREATE INDEX reading_vehicle ON reading (vehicle, taken);
`, `
ALTER TABLE job ADD COLUMN removed TEXT NOT NULL DEFAULT '';        -- when; empty: it was not
ALTER TABLE quote ADD COLUMN page BLOB NOT NULL DEFAULT (x'');      -- HTML as given to the customer, compressed; empty: none was

-- What became of a quote, one row for each step.
CREATE TABLE mark (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  quote  INTEGER NOT NULL REFERENCES quote ON DELETE CASCADE,
  state  TEXT NOT NULL,              -- accepted, ordered, installed; offered: taken back
  marked TEXT NOT NULL
) STRICT;
CREATE INDEX mark_quote ON mark (quote, id);

-- How things were before an upload, so that it can be taken back.
CREATE TABLE upload (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  name   TEXT NOT NULL,              -- of what was uploaded
  target TEXT NOT NULL,              -- the file of parts; empty: the prices of the book
  before BLOB,                       -- its content, or the rows as JSON, compressed; NULL: there was no file
  after  TEXT NOT NULL,              -- SHA-256 of the file afterwards; empty for prices
  taken  TEXT NOT NULL
) STRICT;
`}

// upToDate runs the steps that are missing, each in a transaction of its own.
func (b *Book) upToDate(ctx context.Context) error {
	for {
		at, err := b.version(ctx, b.db)
		switch {
		case err != nil:
			return b.fault(err)
		case at < 0:
			return damaged(b.path, impossibleVersion)
		case at > len(b.o.steps):
			return newer(b.path, at, len(b.o.steps))
		case at == len(b.o.steps):
			return nil
		case b.o.ReadOnly:
			return &Error{Path: b.path, Kind: Older, What: fmt.Sprintf("the job book has version %d and must be brought to version %d", at, len(b.o.steps)),
				Remedy: "open it once where it may be written"}
		}
		if err := b.write(ctx, func(tx *sql.Tx) error { return b.step(ctx, tx) }); err != nil {
			return err
		}
	}
}

// step runs the next step. Another program may have done so meanwhile, so the
// version is asked for again now that nobody else can write.
func (b *Book) step(ctx context.Context, tx *sql.Tx) error {
	at, err := b.version(ctx, tx)
	if err != nil || at >= len(b.o.steps) {
		return err
	}
	if at < 0 {
		return damaged(b.path, impossibleVersion)
	}
	if _, err := tx.ExecContext(ctx, b.o.steps[at]); err != nil {
		return fmt.Errorf("from version %d to %d: %w", at, at+1, err)
	}
	_, err = tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version=%d", at+1))
	return err
}

func (b *Book) version(ctx context.Context, q asker) (at int, err error) {
	err = q.QueryRowContext(ctx, "PRAGMA user_version").Scan(&at)
	return at, err
}
