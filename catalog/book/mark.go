package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"
)

// State is what became of a quote.
type State string

// The states, in the order in which a quote goes through them.
const (
	Offered   State = "offered"
	Accepted  State = "accepted"
	Ordered   State = "ordered"
	Installed State = "installed"
)

// States are all of them.
var States = []State{Offered, Accepted, Ordered, Installed}

// ParseState reads the word of a state.
func ParseState(text string) (State, error) {
	if s := State(strings.ToLower(strings.TrimSpace(text))); slices.Contains(States, s) {
		return s, nil
	}
	return "", fmt.Errorf("%q is no state of a quote; the states are offered, accepted, ordered and installed", text)
}

// Mark is one step of a quote.
type Mark struct {
	Quote  int64
	State  State
	Marked time.Time
}

// MarkQuote notes that a quote was accepted, ordered or installed, or that it is
// merely offered again. A quote that is in that state already is left alone.
func (b *Book) MarkQuote(ctx context.Context, quote int64, s State) error {
	if _, err := ParseState(string(s)); err != nil {
		return err
	}
	stamp, err := b.stamp(time.Time{})
	if err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		var now sql.NullString
		err := tx.QueryRowContext(ctx, `SELECT (SELECT state FROM mark WHERE quote = q.id ORDER BY id DESC LIMIT 1) FROM quote q WHERE id = ?`, quote).Scan(&now)
		switch {
		case err == sql.ErrNoRows:
			return none("quote", quote)
		case err != nil:
			return err
		case State(now.String) == s || !now.Valid && s == Offered:
			return nil
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO mark (quote, state, marked) VALUES (?, ?, ?)`, quote, s, stamp)
		return err
	})
}

// Marks are the steps of all quotes of a job, in the order of time.
func (b *Book) Marks(ctx context.Context, job int64) ([]Mark, error) {
	return b.marks(ctx, `WHERE q.job = ?`, job)
}

func (b *Book) marks(ctx context.Context, where string, args ...any) ([]Mark, error) {
	return collect(ctx, b, func(row *sql.Rows) (m Mark, err error) {
		var marked string
		err = row.Scan(&m.Quote, &m.State, &marked)
		m.Marked = unstamped(marked)
		return m, err
	}, `SELECT m.quote, m.state, m.marked FROM mark m JOIN quote q ON q.id = m.quote `+where+` ORDER BY m.id`, args...)
}

// StateOf is where a quote stands after its steps.
func StateOf(quote int64, marks []Mark) State {
	state := Offered
	for _, m := range marks {
		if m.Quote == quote {
			state = m.State
		}
	}
	return state
}

// further is the one of two states of quotes that a job is in.
func further(a, b State) State {
	if slices.Index(States, b) > slices.Index(States, a) {
		return b
	}
	return a
}

// JobState is the state of the quote which is furthest; of no quote there is none.
func JobState(quotes []QuoteSummary, marks []Mark) (s State) {
	for i := range quotes {
		s = further(s, StateOf(quotes[i].ID, marks))
	}
	return s
}

// states gives the state of every job.
func (b *Book) states(ctx context.Context) (map[int64]State, error) {
	type quoteState struct {
		job   int64
		state State
	}
	all, err := collect(ctx, b, func(row *sql.Rows) (s quoteState, err error) {
		err = row.Scan(&s.job, &s.state)
		return s, err
	}, `SELECT job, coalesce((SELECT state FROM mark WHERE quote = q.id ORDER BY id DESC LIMIT 1), 'offered') FROM quote q`)
	states := map[int64]State{}
	for _, s := range all {
		states[s.job] = further(states[s.job], s.state)
	}
	return states, err
}
