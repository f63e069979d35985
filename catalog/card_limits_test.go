package catalog

import (
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog/document"
	"loudfor/model/air"
	"loudfor/model/driver"
)

// A limit stands once: whatever the reader takes of a spec card, at either end of
// every range, the model takes as well, and what it does not take the reader
// refuses where it stands.
func TestCardsAtTheirLimits(t *testing.T) {
	taken := 0
	for _, field := range cardFields(func(c *driver.Card) *driver.Card { return c }) {
		s := field.Spec
		low, high, _ := strings.Cut(s.Range, "..")
		for _, value := range []string{low, high} {
			if s.Shape == document.Times {
				for _, count := range []int{1, driver.MostCoils, driver.MostCoils + 1} {
					taken += holdsCard(t, map[string]string{s.Key: fmt.Sprintf("%d x %s", count, value)})
				}
				continue
			}
			taken += holdsCard(t, map[string]string{s.Key: value})
		}
	}
	if taken < 25 {
		t.Errorf("only %d cards were taken", taken)
	}
	for _, coils := range []string{"4 x 100 ohm", "9 x 4 ohm", "64.1 ohm", "0.09 ohm"} {
		if holdsCard(t, map[string]string{"coils": coils}) != 0 {
			t.Errorf("coils: %s was taken", coils)
		}
	}
}

// holdsCard reads a driver with one value changed, and is 1 if it is taken.
func holdsCard(t *testing.T, change map[string]string) int {
	t.Helper()
	values := map[string]string{"size": "12 in", "coils": "2 x 4 ohm"}
	for k, v := range change {
		values[k] = v
	}
	text := "parts:\n  - sku: S-1\n    kind: subwoofer\n    price: 1 USD\n"
	for _, field := range cardFields(func(c *driver.Card) *driver.Card { return c }) {
		if v := values[field.Key]; v != "" {
			text += "    " + field.Key + ": " + v + "\n"
		}
	}
	c, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
	if err := report.Err(); err != nil {
		if p := report.Problems[0]; p.Where.Line == 0 || p.Where.Column == 0 {
			t.Errorf("%v: no place: %v", change, err)
		}
		return 0
	}
	if _, _, err := driver.Complete(c.Parts[0].Subwoofer.Card, air.At(roomCelsius)); err != nil {
		t.Errorf("%v was taken, and then: %v", change, err)
	}
	return 1
}
