package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// words reads a drawing as XML and gives its text.
func words(t interface{ Fatalf(string, ...any) }, svg string) string {
	var out strings.Builder
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out.String()
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, svg)
		}
		if text, ok := token.(xml.CharData); ok {
			out.Write(text)
		}
	}
}

func plain(v float64) string { return fmt.Sprintf("%g", v) }

// shown is a chart with everything in it.
func shown() *Chart {
	c := &Chart{Title: "A <test> & its title\a", Words: `said "so"`, Kinds: "limit: ", X: Frequencies(20, 120, Octaves), Y: Levels(100, 131, plain)}
	l := Line{Name: "here & there", Class: "curve"}
	for i := range 63 {
		hz := 20 * math.Pow(2, float64(i)/24)
		kind := Kind{'<', "cone travel", `limit-t"`}
		if hz > 45 {
			kind = Kind{'V', "amplifier voltage", "limit-v"}
		}
		l.Points, l.Of = append(l.Points, XY{hz, 130 - 15*math.Abs(math.Log2(hz/46))}), append(l.Of, kind)
	}
	c.Lines = []Line{l}
	c.Band = Band{Name: "90 % band", Low: []XY{{20, 100}, {120, 101}}, High: []XY{{20, 104}, {120, 106}}}
	c.Rules = []Rule{{At: 100, Words: "cap <100>"}}
	c.Marks = []Mark{{At: XY{50, 128}, Sign: '!', Class: "step", Name: "dear & steep", Title: "<b>", Href: `/?a=1&b="2"`, To: 60},
		{At: XY{40, 127}, Sign: 'x', Tolerance: 1, Class: "measured", Name: "measured", Label: "peak"}}
	return c
}

// Both drawings are well-formed, say what they show, and are the same each time.
func TestSVG(t *testing.T) {
	c := shown()
	file, page := string(File(c)), SVG(c, Frame{860, 380, 52, 730, 30, 336})
	if !bytes.Equal(File(shown()), []byte(file)) || SVG(shown(), Frame{860, 380, 52, 730, 30, 336}) != page {
		t.Error("a second drawing differs")
	}
	for _, want := range []string{"A <test> & its title", "frequency, Hz", "level, dB", "31.5", "limit: cone travel", "limit: amplifier voltage",
		"90 % band", "measured", "dear & steep", "here & there", "cap <100>", "peak"} {
		if !strings.Contains(words(t, file), want) {
			t.Errorf("the file does not say %q", want)
		}
	}
	for _, want := range []string{"31.5", "cone travel", "here & there", "cap <100>", "peak", "<b>"} {
		if !strings.Contains(words(t, page), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	// One stretch of each kind, each under its letter.
	if n := strings.Count(page, `class="shade`); n != 2 || strings.Count(page, ">&lt;</text>") != 1 || strings.Count(page, ">V</text>") != 1 {
		t.Errorf("%d shades in\n%s", n, page)
	}
	if !strings.Contains(page, `href="/?a=1&amp;b=&#34;2&#34;"`) {
		t.Error("a link is not escaped")
	}
}

// A staircase goes along before it goes up, and ends where it is told to.
func TestSVGOfSteps(t *testing.T) {
	c := staircase([]XY{{0, 0}, {50, 10}}, 100)
	c.X.To, c.Y.To, c.Lines[0].Class = 100, 10, "stairs"
	if got := SVG(c, Frame{100, 100, 0, 100, 0, 100}); !strings.Contains(got, `d="M0 100H50V0H100"`) {
		t.Error(got)
	}
}

// Whatever the levels, everything that is drawn lies on the paper.
func TestLevelsHoldTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-50, 180).Draw(t, "low")
		high := low + rapid.Float64Range(0, 90).Draw(t, "span")
		a := Levels(low, high, plain)
		if a.From > low || a.To < high || a.To <= a.From || len(a.Ticks) < 2 || len(a.Ticks) > 13 {
			t.Fatalf("%g to %g: %+v", low, high, a)
		}
	})
}

// One point, a flat curve and no point at all are drawn, never a panic.
func TestSVGOfLittle(t *testing.T) {
	for _, points := range [][]XY{{{20, 100}}, {{20, 100}, {40, 100}}} {
		c := &Chart{Title: "few", X: Frequencies(points[0].X, points[len(points)-1].X, Octaves), Y: Levels(100, 100, plain), Lines: []Line{{Points: points}}}
		if svg := string(File(c)); strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
			t.Error(svg)
		}
	}
	words(t, string(File(&Chart{Title: "none"})))
}
