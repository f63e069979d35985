package catalog

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// Every range of every table is tried at its ends and just beyond them.
func TestEveryRange(t *testing.T) {
	var specs []spec
	for k := range KindCount {
		specs = append(specs, schemas[k].Specs()...)
	}
	specs = append(append(append(specs, briefSchema.Specs()...), buildSchema.Specs()...), vehicleSchema.Specs()...)
	tried := 0
	var each func(specs []spec)
	each = func(specs []spec) {
		for i := range specs {
			s := &specs[i]
			each(s.Sub)
			if s.Range == "" || s.Shape == document.Price {
				continue
			}
			low, high, _ := strings.Cut(s.Range, "..")
			low, over := strings.CutPrefix(low, ">")
			step := 0.001
			if s.Shape == document.Whole {
				step = 1
			}
			check := func(text string, good bool) {
				tried++
				switch s.Shape {
				case document.Size:
					text = text + " x " + high + " x " + high
				case document.Pair:
					text = text + " x " + high
				case document.Point:
					text = text + " x 0 m x " + high
				}
				var v value
				r := &document.Reader{File: &document.File{Name: "f"}}
				if got := r.Read(&yaml.Node{Kind: yaml.ScalarNode, Value: text, Tag: "!!str", Line: 1, Column: 1}, s, &v); got != good {
					found, _ := r.Problems()
					t.Errorf("%s of %q: read %v, want %v: %+v", s.Key, text, got, good, found)
				}
			}
			check(low, !over)
			check(high, true)
			check(shift(low, -step), false)
			check(shift(high, step), false)
			if over && s.Shape != document.Times && s.Shape != document.Sum {
				check(shift(low, step), true)
			}
		}
	}
	each(specs)
	if tried < 500 {
		t.Errorf("only %d values were tried", tried)
	}
}

// shift moves a number with a unit.
func shift(text string, by float64) string {
	number, unit, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		panic(err)
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s", strconv.FormatFloat(x+by, 'f', -1, 64), unit))
}
