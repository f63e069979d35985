package chart

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// staircase is a chart of steps with a mark on each.
func staircase(steps []XY, end float64) *Chart {
	c := &Chart{Title: "level, dB", X: Axis{Unit: "USD"}, Lines: []Line{{Points: steps, Step: true, End: end}}}
	for _, at := range steps {
		c.Marks = append(c.Marks, Mark{At: at, Sign: 'o'})
	}
	return c
}

func TestSteps(t *testing.T) {
	var out strings.Builder
	c := staircase([]XY{{100, 120}, {150, 122}, {300, 123}}, 400)
	c.Marks[2].Sign = '!'
	err := Text(&out, 100, c)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(out.String(), "\n")
	if lines[0] != "level, dB" || !strings.HasPrefix(lines[1], "   123 |") || strings.Count(lines[1], "!") != 1 || !strings.HasSuffix(lines[1], "--") {
		t.Errorf("\n%s", out.String())
	}
	if low := lines[7]; !strings.HasPrefix(low, "   120 |o--") || len(low) > 30 {
		t.Errorf("the first step:\n%s", out.String())
	}
	if axis := lines[9]; !strings.Contains(axis, "100") || !strings.Contains(axis, "400") || !strings.HasSuffix(axis, "USD") {
		t.Errorf("axis: %s", axis)
	}
}

// Whatever the steps: within the page, one mark at least, no panic.
func TestStepsFitThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var steps []XY
		at, level := 0.0, 0.0
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			at += rapid.Float64Range(0.01, 500).Draw(t, "price")
			level += rapid.Float64Range(0.001, 9).Draw(t, "rise")
			steps = append(steps, XY{at, level})
		}
		var out strings.Builder
		if err := Text(&out, 100, staircase(steps, at*rapid.Float64Range(0, 3).Draw(t, "end"))); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), "o") {
			t.Fatal("no mark")
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if len(line) > 110 || strings.HasSuffix(line, " ") {
				t.Fatalf("%q", line)
			}
		}
	})
}
