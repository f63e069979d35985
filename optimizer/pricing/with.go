package pricing

import "fmt"

// A part that has to be in every build, for the question what a customer's
// favourite would do. The brief's must does not answer it: what must names may
// be idle, so a line converter could ride along with nothing to convert, and
// the answer would be no build of the brief at all. With a part asked for by
// Problem.With, the builds are exactly those builds of the brief that hold it.

// ListMusts finds what must be in the build, and marks the part that every build has
// to hold.
func (t *Book) ListMusts() error {
	if err := t.with(); err != nil {
		return err
	}
	for _, it := range t.Shelf.Items {
		if it.Must > 0 {
			t.Musts = append(t.Musts, it)
		}
	}
	return nil
}

// with marks the part that every build has to hold.
func (t *Book) with() error {
	if t.Problem.With == "" {
		return nil
	}
	it := t.Shelf.BySKU[t.Problem.With]
	if it == nil {
		return fmt.Errorf("with names %s, which is not in the catalogue", t.Problem.With)
	}
	if it.Part.Kind.ForBuilding() {
		return fmt.Errorf("with names %s, which is what boxes are built with, not a part of a build", t.Problem.With)
	}
	if it.Must == 0 {
		it.Must, it.Used = 1, true
	}
	return nil
}
