// Package handover writes what a stranger needs to check an answer without this
// program: the premises as numbers, the claim, and a checker in Python with numpy
// that has physics of its own.
//
//	err := handover.Write(folder, audit.PremisesOf(question))
//
// Then "python3 check.py" in that folder says confirmed, refuted or not settled, with
// the counts that the audit prints, and "python3 cards.py" whether the premises follow
// from the cards. Limit: prices that do not add up (deals, trips) it bounds, and refutes
// nothing by them.
package handover

import (
	"embed"
	"encoding/json"
	"io"
	"os"
	"path/filepath"

	"loudfor/catalog/writing"
	"loudfor/optimizer/audit"
)

//go:embed check.py cards.py
var checkers embed.FS

// Checker says whether the claim holds, Cards whether the Premises are in order.
const (
	Checker  = "check.py"
	Cards    = "cards.py"
	Premises = "premises.json"
)

// Write makes the folder if there is none, and writes the files.
func Write(folder string, p audit.Premises) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	err := writing.Replace(filepath.Join(folder, Premises), func(w io.Writer) error {
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		e.SetIndent("", " ")
		return e.Encode(p)
	})
	if err != nil {
		return err
	}
	for _, name := range []string{Checker, Cards} {
		text, err := checkers.ReadFile(name)
		if err != nil {
			return err
		}
		if err := writing.Replace(filepath.Join(folder, name), func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
			return err
		}
	}
	return nil
}
