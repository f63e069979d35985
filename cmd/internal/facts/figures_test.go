package facts

import (
	"fmt"
	"math/big"
	"testing"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Three(0), "0"}, {Three(0.0123456), "0.0123"}, {Three(9.996), "10.0"}, {Three(0.9996), "1.00"}, {Three(999.6), "1000"}, {Three(12.345), "12.3"}, {Three(1234.5), "1230"}, {Three(-0.5), "-0.500"},
		{Fixed(-0.04, 1), "0.0"}, {Fixed(-0.06, 1), "-0.1"}, {Hertz(45.25), "45 Hz"},
		{Thousands(big.NewInt(7)), "7"}, {Thousands(big.NewInt(1000)), "1,000"}, {Thousands(big.NewInt(1234567)), "1,234,567"},
		{List([]string{"a"}), "a"}, {List([]string{"a", "b", "c"}), "a, b and c"},
		{Sentence("wire it"), "Wire it."}, {Sentence("Done!"), "Done!"}, {Sentence(""), ""},
		{Where("1 m", "open field"), "1 m away, open field"}, {Where("dash", "shut"), "at the dash, shut"},
		{Centimetres(0.95, 0.455, 0.5), "95 x 45.5 x 50 cm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestGroupedLosesNothing(t *testing.T) {
	got := Grouped([]string{"no part", "A: x (s (t))", "A: y (s (t))", "A: z", "B: z", "A: x (s)"})
	want := []string{"no part", "A: x; y (s (t))", "A: z", "B: z", "A: x (s)"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
