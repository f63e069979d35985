package book

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"sync"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// A state of the catalogue is stored under the hash (SHA-256) of its canonical
// bytes: equal catalogues are one state, whichever files they came from, and
// bytes that the disk has changed do not match their name any more.

type state struct {
	hash  string
	parts int
	text  []byte
	// packed is nil when the book held the state at the time of looking.
	packed []byte
}

// Hash is the name under which a book stores a catalogue.
func Hash(c *catalog.Catalogue) (string, error) {
	h := sha256.New()
	err := catalog.WriteParts(h, c)
	return hex.EncodeToString(h.Sum(nil)), err
}

// stateOf prepares a catalogue for storing. The one that was used last is kept
// in mind: many quotes in a row come from one.
func (b *Book) stateOf(ctx context.Context, c *catalog.Catalogue) (*state, error) {
	b.recent.Lock()
	defer b.recent.Unlock()
	if b.recent.catalogue == c {
		return b.recent.state, nil
	}
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, c); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(text.Bytes())
	s := &state{hash: hex.EncodeToString(sum[:]), parts: len(c.Parts), text: text.Bytes()}
	there, err := held(ctx, b.db, s.hash)
	if err != nil {
		return nil, b.fault(err)
	}
	if !there {
		if err := s.verify(); err != nil {
			return nil, fmt.Errorf("the catalogue cannot be stored: %w", err)
		}
		s.packed = pack(s.text)
	}
	b.recent.catalogue, b.recent.state = c, s
	return s, nil
}

// recent is the state that was prepared last.
type recent struct {
	sync.Mutex
	catalogue *catalog.Catalogue
	state     *state
}

// verify reads a new state back: one that gave another catalogue would be
// worse than none.
func (s *state) verify() error {
	back, err := parse(s.hash, s.text)
	if err != nil {
		return err
	}
	if again, err := Hash(back); err != nil || again != s.hash {
		return errors.New("it is not the same when it is read back")
	}
	return nil
}

func held(ctx context.Context, q asker, hash string) (bool, error) {
	var n int
	err := q.QueryRowContext(ctx, `SELECT count(*) FROM catalogue WHERE hash = ?`, hash).Scan(&n)
	return n > 0, err
}

// insert stores the state if it is not there, also when another program has
// removed it since stateOf looked.
func (s *state) insert(ctx context.Context, tx *sql.Tx, added string) error {
	there, err := held(ctx, tx, s.hash)
	if err != nil || there {
		return err
	}
	packed := s.packed
	if packed == nil {
		packed = pack(s.text)
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO catalogue (hash, parts, content, added) VALUES (?, ?, ?, ?)`, s.hash, s.parts, packed, added)
	return err
}

// Catalogue gives a stored catalogue; its positions are lines of the canonical
// file. Reading ten thousand parts takes a tenth of a second or two, so keep
// the result when many quotes have one hash.
func (b *Book) Catalogue(ctx context.Context, hash string) (*catalog.Catalogue, error) {
	var packed []byte
	err := b.db.QueryRowContext(ctx, `SELECT content FROM catalogue WHERE hash = ?`, hash).Scan(&packed)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, none("catalogue", hash)
	}
	if err != nil {
		return nil, b.misread(err)
	}
	text, err := b.unpack(packed, "a catalogue")
	if err != nil {
		return nil, err
	}
	if sum := sha256.Sum256(text); hex.EncodeToString(sum[:]) != hash {
		return nil, damaged(b.path, "a catalogue does not match its hash")
	}
	return parse(hash, text)
}

func parse(hash string, text []byte) (*catalog.Catalogue, error) {
	const enough = 12 // letters to tell the states of one book apart
	name := "catalogue-" + hash[:min(enough, len(hash))] + ".yaml"
	c, report := catalog.LoadFS(document.Memory{name: text}, []string{name})
	return c, report.Err()
}
