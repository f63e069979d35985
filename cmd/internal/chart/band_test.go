package chart

import (
	"bytes"
	"strings"
	"testing"
)

func TestWriteBand(t *testing.T) {
	var band []Band
	for _, hz := range []float64{25, 31.5, 40, 50, 63, 80} {
		band = append(band, Band{hz, 100, 105, 110})
	}
	var out bytes.Buffer
	err := WriteBand(&out, "levels", band, []Point{{Hz: 40, Level: 113}, {Hz: 50, Level: 105}, {Hz: 90, Level: 100}})
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
	if err := WriteBand(&out, "none", nil, nil); err != nil {
		t.Error(err)
	}
}
