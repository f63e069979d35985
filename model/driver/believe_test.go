package driver

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// sound is a consistent card with one coil: Bl, Cms, Mms and the sensitivity
// by the textbook formulas.
func sound() Card {
	c := Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Re: 3.4, Le: 0.0016, Fs: 30, Qms: 5, Qes: 0.5, Qts: 2.5 / 5.5,
		Vas: 0.058, Sd: 0.049, Xmax: 0.01, Power: 250}
	w := 2 * math.Pi * c.Fs
	c.Cms = c.Vas / (room.Density * room.SoundSpeed * room.SoundSpeed * c.Sd * c.Sd)
	c.Mms = 1 / (w * w * c.Cms)
	c.Bl = math.Sqrt(w * c.Mms * c.Re / c.Qes)
	c.Sensitivity = LevelOfWatt(room) + 10*math.Log10(4*math.Pi*math.Pi*math.Pow(c.Fs/room.SoundSpeed, 3)*c.Vas/c.Qes)
	return c
}

func contradictions(notes []Note) []Note {
	var found []Note
	for _, n := range notes {
		if n.Kind == Inconsistent {
			found = append(found, n)
		}
	}
	return found
}

// Which identity fails, by how much, who is blamed, what is used.
func TestInconsistentCards(t *testing.T) {
	const qts, vas, fs, qes, eta = "Qts = Qms Qes/(Qms+Qes)", "Vas = rho c^2 Sd^2 Cms", "fs = 1/(2 pi sqrt(Mms Cms))",
		"Qes = 2 pi fs Mms Re/(C Bl^2)", "eta0 = 4 pi^2 fs^3 Vas/(c^3 Qes)"
	whole := sound()
	tests := []struct {
		name   string
		spoil  func(*Card)
		broken map[string]float64 // identity to left over right less 1
		blamed string
		used   float64
		says   string
	}{
		{"nothing", func(c *Card) {}, nil, "", 0, ""},
		{"just inside the tolerance", func(c *Card) { c.Qts *= 1.059 }, nil, "", 0, ""},
		{"just outside the tolerance", func(c *Card) { c.Qts *= 1.061 }, map[string]float64{qts: 0.061}, "Qts", whole.Qts, "one of Qes, Qms, Qts is wrong"},
		{"Cms by half, two identities outvote it", func(c *Card) { c.Cms /= 2 },
			map[string]float64{vas: 1, fs: math.Sqrt2/2 - 1}, "Cms", whole.Cms, "without it all the others agree"},
		{"Mms by a third", func(c *Card) { c.Mms *= 4. / 3 },
			map[string]float64{fs: math.Sqrt(4./3) - 1, qes: -0.25}, "Mms", whole.Mms, "without it"},
		{"fs is outvoted though it is believed", func(c *Card) { c.Fs *= 1.2 },
			map[string]float64{fs: 0.2, qes: 1/1.2 - 1, eta: 1/1.728 - 1}, "Fs", whole.Fs, "without it"},
		{"Bl", func(c *Card) { c.Bl *= 1.2 }, map[string]float64{qes: 0.44}, "Bl", whole.Bl, "one of Re, Bl is wrong"},
		{"sensitivity 0.9 dB up", func(c *Card) { c.Sensitivity += 0.9 }, nil, "", 0, ""},
		{"sensitivity at 2.83 V", func(c *Card) { c.Sensitivity += 10 * math.Log10(8/3.4) },
			map[string]float64{eta: 8/3.4 - 1}, "Sensitivity", whole.Sensitivity, "seems to be that at 2.83 V"},
		{"three numbers, none to outvote another", func(c *Card) {
			*c = Card{Size: c.Size, Coils: 1, CoilLoad: 4, Re: c.Re, Fs: c.Fs, Qts: c.Qts, Qms: c.Qms, Sd: c.Sd, Mms: c.Mms, Cms: c.Cms * 1.5}
		}, map[string]float64{fs: math.Sqrt(1.5) - 1}, "Cms", whole.Cms, "one of Fs, Mms, Cms is wrong"},
		{"through an unstated Cms", func(c *Card) { c.Cms = 0; c.Bl = 0; c.Mms *= 1.5 },
			map[string]float64{vas + " and " + fs: 0.5}, "Mms", whole.Mms, "is wrong"},
		{"Qts contradicts the motor", func(c *Card) { c.Qms, c.Qes, c.Sensitivity, c.Cms = 0, 0, 0, 0; c.Bl *= 1.3 },
			nil, "Bl", 0, "one of"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c := sound()
			test.spoil(&c)
			d, notes, err := Complete(c, room)
			if err != nil {
				t.Fatal(err)
			}
			holds(t, d, room)
			found := contradictions(notes)
			if test.blamed == "" {
				if len(found) > 0 {
					t.Fatalf("unexpected %+v", found)
				}
				return
			}
			if len(found) == 0 || (test.broken != nil && len(found) != len(test.broken)) {
				t.Fatalf("%d contradictions, want %v: %+v", len(found), test.broken, found)
			}
			for _, n := range found {
				if want, ok := test.broken[n.Quantity]; test.broken != nil && (!ok || math.Abs(n.Spread-want) > 1e-6) {
					t.Errorf("%s is off by %v, want %v", n.Quantity, n.Spread, test.broken)
				}
				if n.Fields[0] != test.blamed {
					t.Errorf("%s blames %v, want %s", n.Quantity, n.Fields, test.blamed)
				}
				if test.used != 0 {
					near(t, "used "+test.blamed, n.Value, test.used, 1e-6)
				}
				if !strings.Contains(n.Source, test.says) {
					t.Errorf("%q does not say %q", n.Source, test.says)
				}
			}
		})
	}
}

// Values for the coils joined, where one coil's are wanted.
func TestCoilSlips(t *testing.T) {
	whole := sound()
	whole.Coils, whole.Bl, whole.Sensitivity = 2, whole.Bl/math.Sqrt2, 0
	tests := []struct {
		name  string
		spoil func(*Card)
		says  string
	}{
		{"Re in series", func(c *Card) { c.Re *= 2 }, "Re stated as 6.8 ohm, used as 3.4 ohm; without it all the others agree; it seems to be that of 2 coils in series"},
		{"Re in parallel", func(c *Card) { c.Re /= 2 }, "it seems to be that of 2 coils in parallel"},
		{"Bl in series", func(c *Card) { c.Bl *= 2 }, "it seems to be that of 2 coils in series"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c := whole
			test.spoil(&c)
			d, notes, err := Complete(c, room)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "Re", d.Re, whole.Re, 1e-6)
			near(t, "Bl", d.Bl, whole.Bl, 1e-6)
			found := contradictions(notes)
			if len(found) == 0 || !strings.Contains(found[0].Source, test.says) {
				t.Errorf("%+v does not say %q", found, test.says)
			}
		})
	}
}

func TestImpossibleCards(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*Card)
		want  []string // fields, in order
		says  string
	}{
		{"Qts at Qes", func(c *Card) { c.Qts = c.Qes }, []string{"Qts"}, "0.5 cannot be at or above Qes 0.5"},
		{"Qts above Qms", func(c *Card) { c.Qts = 2; c.Qms = 1; c.Qes = 0; c.Bl = 0 }, []string{"Qts"}, "2 cannot be at or above Qms 1"},
		{"negative Xmax", func(c *Card) { c.Xmax = -0.009 }, []string{"Xmax"}, "-9 mm is negative"},
		{"negative compliance", func(c *Card) { c.Cms = -c.Cms }, []string{"Cms"}, "negative"},
		{"Vas in litres taken for cubic metres", func(c *Card) { c.Vas = 58 }, []string{"Vas"}, "58000 L is not between"},
		{"piston larger than the frame", func(c *Card) { c.Sd = 0.08 }, []string{"Sd"}, "more than the whole frame of a 12 in driver"},
		{"mass and compliance contradict fs", func(c *Card) { c.Mms *= 8 }, []string{"Mms"}, "1322 g cannot be right, 165.3 g follows by"},
		{"not a number", func(c *Card) { c.Fs = math.NaN() }, []string{"Fs"}, "not a number"},
		{"infinite", func(c *Card) { c.Power = math.Inf(1) }, []string{"Power"}, "not a number"},
		{"coils", func(c *Card) { c.Coils = -1 }, []string{"Coils"}, "fit on a former"},
		{"no size", func(c *Card) { *c = Card{Fs: 31} }, []string{"Size"}, "nothing typical"},
		{"everything at once", func(c *Card) { c.Xmax, c.Fs, c.Qts, c.Power = -1, -31, 0.7, 1e9 },
			[]string{"Fs", "Xmax", "Power", "Qts"}, "; "},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c := sound()
			test.spoil(&c)
			_, _, err := Complete(c, room)
			var impossible *ImpossibleError
			if !errors.As(err, &impossible) {
				t.Fatalf("error %v", err)
			}
			var got []string
			for _, n := range impossible.Numbers {
				got = append(got, n.Quantity)
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("%v\n%s", err, diff)
			}
			if !strings.Contains(err.Error(), test.says) {
				t.Errorf("%q does not say %q", err, test.says)
			}
		})
	}
}

// Either side of what is refused rather than warned about.
func TestBeyondReason(t *testing.T) {
	for _, test := range []struct {
		factor float64 // on Mms, squared in fs
		refuse bool
	}{{2.4 * 2.4, false}, {2.6 * 2.6, true}} {
		c := Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Fs: 30, Mms: 0.16, Cms: 1.759e-4 * test.factor}
		if _, _, err := Complete(c, room); (err != nil) != test.refuse {
			t.Errorf("factor %v: %v", test.factor, err)
		}
	}
}
