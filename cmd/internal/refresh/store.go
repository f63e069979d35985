package refresh

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite" // the database

	"loudfor/cmd/library"
)

// store keeps answers from one refresh to the next, in one file: under the hash of what
// they depend on, and which of them was the last for each thing that is asked. It is
// open in one process at a time.
type store struct {
	db   *sql.DB
	name string // of its file
}

// slots are made anew by each refresh.
const slots = `CREATE TABLE IF NOT EXISTS slots (slot TEXT PRIMARY KEY, key TEXT NOT NULL, catalogue TEXT NOT NULL) WITHOUT ROWID;
`

const tables = slots + `
CREATE TABLE IF NOT EXISTS answers (key TEXT PRIMARY KEY, answer TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS bundles (hash TEXT PRIMARY KEY, content BLOB NOT NULL);
DELETE FROM answers WHERE answer LIKE '{"Outcome":"failed"%';
`

// openStore opens that of a folder; another refresh of the same plan must not be at it.
func openStore(folder string) (*store, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	name, err := filepath.Abs(filepath.Join(folder, "answers.db"))
	if err != nil {
		return nil, err
	}
	slashed := filepath.ToSlash(name)
	if !strings.HasPrefix(slashed, "/") { // C:/...
		slashed = "/" + slashed
	}
	address := (&url.URL{Scheme: "file", Path: slashed}).String()
	db, err := sql.Open("sqlite", address+"?_txlock=immediate&_pragma=busy_timeout(1000)&_pragma=locking_mode(exclusive)&_pragma=journal_mode(wal)&_pragma=synchronous(full)")
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	s := &store{db, name}
	if _, err = db.Exec(tables); err != nil {
		return nil, errors.Join(fmt.Errorf("%s cannot be used: %w; see that no other refresh of this plan is at it, that it may be written, and that its disk has room", name, err), db.Close())
	}
	return s, nil
}

func (s *store) close() error { return s.db.Close() }

// change does something whole or not at all.
func (s *store) change(do func(tx *sql.Tx) error) error {
	tx, err := s.db.Begin()
	if err == nil {
		if err = do(tx); err != nil {
			_ = tx.Rollback() // the database may have done so itself
		} else {
			err = tx.Commit()
		}
	}
	if err != nil {
		return fmt.Errorf("answers cannot be kept in %s: %w; make room on its disk, and run it again to go on", s.name, err)
	}
	return nil
}

// keep stores answers.
func (s *store) keep(answers map[string]json.RawMessage) error {
	return s.change(func(tx *sql.Tx) error {
		for key, text := range answers {
			if _, err := tx.Exec("INSERT OR REPLACE INTO answers VALUES (?, ?)", key, string(text)); err != nil {
				return err
			}
		}
		return nil
	})
}

// one is the first column of a row, or nothing.
func one(row *sql.Row) (text string, err error) {
	if err = row.Scan(&text); errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return text, err
}

// has says whether there is an answer.
func (s *store) has(key string) (bool, error) {
	text, err := one(s.db.QueryRow("SELECT key FROM answers WHERE key = ?", key))
	return text != "", err
}

// answer is that of a key; nil: there is none.
func (s *store) answer(key string) (*library.Answer, error) {
	text, err := one(s.db.QueryRow("SELECT answer FROM answers WHERE key = ?", key))
	if err != nil || text == "" {
		return nil, err
	}
	a := new(library.Answer)
	return a, json.Unmarshal([]byte(text), a)
}

// last is what was answered the last time to what is asked, and from which catalogue;
// nil: it was not asked.
func (s *store) last(slot string) (a *library.Answer, catalogue string, err error) {
	var text string
	err = s.db.QueryRow("SELECT answer, catalogue FROM slots JOIN answers USING (key) WHERE slot = ?", slot).Scan(&text, &catalogue)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, "", nil
	}
	if err != nil {
		return nil, "", err
	}
	a = new(library.Answer)
	return a, catalogue, json.Unmarshal([]byte(text), a)
}

// bundle is the Source of catalogues of the last time, and of rankings.
func (s *store) bundle(_ context.Context, hash string) (content []byte, err error) {
	err = s.db.QueryRow("SELECT content FROM bundles WHERE hash = ?1 UNION ALL SELECT CAST(answer AS BLOB) FROM answers WHERE key = ?1", hash).Scan(&content)
	return content, err
}

// settled is what one refresh leaves to the next; without a key: what the last one did.
type settled struct{ slot, key, catalogue string }

// settle makes this refresh the last one: each slot has its answer, and what is not asked
// any more is forgotten.
func (s *store) settle(all func(func(settled) error) error, packed func(hash string) ([]byte, error)) error {
	return s.change(func(tx *sql.Tx) error {
		if _, err := tx.Exec("ALTER TABLE slots RENAME TO before; " + slots); err != nil {
			return err
		}
		err := all(func(one settled) (err error) {
			if one.key == "" {
				_, err = tx.Exec("INSERT INTO slots SELECT * FROM before WHERE slot = ?", one.slot)
			} else {
				_, err = tx.Exec("INSERT OR REPLACE INTO slots VALUES (?, ?, ?)", one.slot, one.key, one.catalogue)
			}
			return err
		})
		if err != nil {
			return err
		}
		var missing []string
		rows, err := tx.Query("SELECT DISTINCT catalogue FROM slots WHERE catalogue NOT IN (SELECT hash FROM bundles)")
		if err != nil {
			return err
		}
		for rows.Next() {
			var hash string
			if err := rows.Scan(&hash); err != nil {
				return err
			}
			missing = append(missing, hash)
		}
		if err := errors.Join(rows.Err(), rows.Close()); err != nil {
			return err
		}
		for _, hash := range missing {
			content, err := packed(hash)
			if err != nil {
				continue // the next refresh searches where it could have known
			}
			if _, err := tx.Exec("INSERT INTO bundles VALUES (?, ?)", hash, content); err != nil {
				return err
			}
		}
		for _, statement := range []string{
			"DROP TABLE before",
			"DELETE FROM bundles WHERE hash NOT IN (SELECT catalogue FROM slots)",
			"DELETE FROM answers WHERE key NOT IN (SELECT key FROM slots)",
		} {
			if _, err := tx.Exec(statement); err != nil {
				return err
			}
		}
		return nil
	})
}
