package chart

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWrite(t *testing.T) {
	points := []Point{{20, 100, 'T'}, {25, 104.4, 'T'}, {31.5, 108, 'T'}, {40, 112.6, 'V'}, {50, 110, 'V'}}
	var out strings.Builder
	if err := Write(&out, "level, dB", points); err != nil {
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
		points := make([]Point, n)
		for i := range points {
			points[i] = Point{Hz: 20 * math.Pow(6, float64(i)/float64(n)), Level: rapid.Float64Range(-20, 180).Draw(t, "level"), Mark: 'x'}
		}
		var out strings.Builder
		if err := Write(&out, "level, dB", points); err != nil {
			t.Fatal(err)
		}
		marks := 0
		for line := range strings.SplitSeq(out.String(), "\n") {
			if len(line) > 100 {
				t.Fatalf("line of %d: %q", len(line), line)
			}
			marks += strings.Count(line, "x")
		}
		if marks != min(n, mostColumns) {
			t.Fatalf("%d marks for %d points\n%s", marks, n, out.String())
		}
	})
}
