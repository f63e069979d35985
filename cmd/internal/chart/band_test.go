package chart

import (
	"bytes"
	"strings"
	"testing"
)

func TestTextOfBand(t *testing.T) {
	c := Chart{Title: "levels", X: Axis{Log: true}, Lines: []Line{{}}}
	for _, hz := range []float64{25, 31.5, 40, 50, 63, 80} {
		c.Band.Low, c.Band.High = append(c.Band.Low, XY{hz, 100}), append(c.Band.High, XY{hz, 110})
		c.Lines[0].Points = append(c.Lines[0].Points, XY{hz, 105})
	}
	for _, at := range []XY{{40, 113}, {50, 105}, {90, 100}} {
		c.Marks = append(c.Marks, Mark{At: at, Sign: 'x'})
	}
	var out bytes.Buffer
	err := Text(&out, 100, &c)
	if err != nil {
		t.Fatal(err)
	}
	want := `levels
   113 |  x
       |
   111 |
       |::::::
   109 |
       |
   107 |
       |
   105 |---x--
       |
   103 |
       |
   101 |
       |::::::
       ++-++++
        25405080 Hz
        1 beyond the ends of the chart
`
	if got := out.String(); strings.Count(got, "x") != 2 || strings.Count(got, ":") != 12 || strings.Count(got, "-") < 5 || !strings.Contains(got, "1 beyond") {
		t.Errorf("%s\nwant something like\n%s", got, want)
	}
	if err := Text(&out, 100, &Chart{Title: "none"}); err != nil {
		t.Error(err)
	}
}
