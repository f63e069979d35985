package figure

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
)

func TestBandSVG(t *testing.T) {
	band := []BandPoint{{25, 100, 105, 110}, {40, 108, 112, 116}, {80, 104, 107, 110}}
	draw := func() []byte {
		svg, err := BandSVG("dash, doors open", band, []Measured{{30, 108, 0.5}, {50, 111, 0.5}})
		if err != nil {
			t.Fatal(err)
		}
		return svg
	}
	svg := draw()
	if !bytes.Equal(svg, draw()) {
		t.Error("the same points give other bytes")
	}
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, words := range []string{"measured", "predicted", "90 % band", "dash, doors open"} {
		if !strings.Contains(string(svg), words) {
			t.Errorf("%q is not in the picture", words)
		}
	}
	if _, err := BandSVG("", band[:1], nil); err == nil {
		t.Error("one frequency was accepted")
	}
}
