package figure

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func curve() []Point {
	var points []Point
	for i := range 63 {
		hz := 20 * math.Pow(2, float64(i)/24)
		limit := "travel"
		if hz > 45 {
			limit = "amplifier voltage"
		}
		points = append(points, Point{Hz: hz, Level: 130 - 15*math.Abs(math.Log2(hz/46)), Limit: limit})
	}
	return points
}

// The picture is well-formed XML, says what it shows, and is the same each time.
func TestSVG(t *testing.T) {
	picture, err := SVG("A <test> & its title", curve())
	if err != nil {
		t.Fatal(err)
	}
	var words strings.Builder
	decoder := xml.NewDecoder(bytes.NewReader(picture))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if text, ok := token.(xml.CharData); ok {
			words.Write(text)
		}
	}
	for _, want := range []string{"A <test> & its title", "frequency, Hz", "level, dB", "31.5", "limit: travel", "limit: amplifier voltage"} {
		if !strings.Contains(words.String(), want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	again, err := SVG("A <test> & its title", curve())
	if err != nil || !bytes.Equal(picture, again) {
		t.Errorf("a second drawing differs (%v)", err)
	}
}

// One point, a flat curve and no point at all are drawn or refused, never a panic.
func TestSVGOfLittle(t *testing.T) {
	if _, err := SVG("one", curve()[:1]); err != nil {
		t.Error(err)
	}
	flat := []Point{{Hz: 20, Level: 100}, {Hz: 40, Level: 100}}
	if _, err := SVG("flat", flat); err != nil {
		t.Error(err)
	}
	if _, err := SVG("none", nil); err == nil {
		t.Error("no point was drawn")
	}
}
