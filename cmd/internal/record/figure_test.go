package record

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		got  Figure
		want string
	}{
		{Level(131.40049), "131.4"},
		{Level(131.4005001), "131.401"},
		{Level(-0.0001), "0"},
		{Number(46.2081), "46.2081"},
		{Number(46.20812349), "46.2081"},
		{Number(0.000012345678), "0.0000123457"},
		{Number(1234567.8), "1234568"},
		{Number(0), "0"},
		{"", "0"},
	} {
		text, err := json.Marshal(c.got)
		if err != nil || string(text) != c.want {
			t.Errorf("got %s (%v), want %s", text, err, c.want)
		}
	}
}

// Every finite number becomes valid JSON within the promised rounding.
func TestNumberIsClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.Float64Range(-1e9, 1e9).Draw(t, "value")
		var back float64
		text, err := json.Marshal(Number(value))
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if math.Abs(back-value) > 5.1e-6*math.Abs(value)+1e-12 {
			t.Fatalf("%g became %s", value, text)
		}
	})
}

// A figure that is no number is a programmer's mistake and must not pass.
func TestNoNumber(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%g passed", bad)
				}
			}()
			Level(bad)
		}()
	}
}
