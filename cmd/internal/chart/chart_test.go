package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestText(t *testing.T) {
	line := Line{Points: []XY{{20, 100}, {25, 104.4}, {31.5, 108}, {40, 112.6}, {50, 110}}}
	for _, letter := range "TTTVV" {
		line.Of = append(line.Of, Kind{Letter: letter})
	}
	var out strings.Builder
	if err := Text(&out, 100, &Chart{Title: "level, dB", X: Axis{Log: true}, Lines: []Line{line}}); err != nil {
		t.Fatal(err)
	}
	want := `
level, dB
   113 |   V
       |
   111 |
       |    V
   109 |
       |  T
   107 |
       |
   105 |
       | T
   103 |
       |
   101 |
       |T
       ++++++
        20 40 Hz
`[1:]
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}

// Every column that has a point shows exactly one mark, in the row of the
// loudest point's rounded level; no line leaves the page.
func TestEveryPointIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "n")
		line := Line{Points: make([]XY, n), Of: slices.Repeat([]Kind{{Letter: 'x'}}, n)}
		for i := range line.Points {
			line.Points[i] = XY{20 * math.Pow(6, float64(i)/float64(n)), rapid.Float64Range(-20, 180).Draw(t, "level")}
		}
		var out strings.Builder
		if err := Text(&out, 100, &Chart{Title: "level, dB", X: Axis{Log: true}, Lines: []Line{line}}); err != nil {
			t.Fatal(err)
		}
		marks := 0
		for line := range strings.SplitSeq(out.String(), "\n") {
			if len(line) > 100 {
				t.Fatalf("line of %d: %q", len(line), line)
			}
			marks += strings.Count(line, "x")
		}
		if marks != min(n, 100-besideCurve) {
			t.Fatalf("%d marks for %d points\n%s", marks, n, out.String())
		}
	})
}
