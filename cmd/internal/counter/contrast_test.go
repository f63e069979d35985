package counter

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The contrast of text and of what can be operated is computed from the style
// sheet's own colours, in both schemes (WCAG 2.2, success criteria 1.4.3 and
// 1.4.11, level AA).
const (
	textContrast    = 4.5 // for text of any size
	controlContrast = 3.0 // for edges of fields, lines of charts, marks
)

// pairs are the colours that stand on each other in the style sheet.
var pairs = []struct {
	over, under string
	least       float64
}{
	{"ink", "paper", textContrast}, {"ink", "card", textContrast}, {"ink", "soft", textContrast},
	{"ink", "accent-soft", textContrast}, {"ink", "warn-soft", textContrast},
	{"quiet", "paper", textContrast}, {"quiet", "card", textContrast}, {"quiet", "soft", textContrast}, {"quiet", "accent-soft", textContrast},
	{"accent", "paper", textContrast}, {"accent", "card", textContrast}, {"accent", "soft", textContrast}, {"accent", "accent-soft", textContrast}, {"accent", "warn-soft", textContrast},
	{"on-accent", "accent", textContrast},
	{"warn", "paper", textContrast}, {"warn", "warn-soft", textContrast},
	{"bad", "paper", textContrast}, {"bad", "bad-soft", textContrast},
	{"ink", "shade-v", textContrast}, {"ink", "shade-a", textContrast}, {"ink", "shade-s", textContrast},
	{"ink", "shade-t", textContrast}, {"ink", "shade-h", textContrast}, {"ink", "shade-p", textContrast},
	{"edge", "paper", controlContrast}, {"edge", "card", controlContrast},
	{"warn", "card", controlContrast}, {"accent", "card", controlContrast},
}

var colour = regexp.MustCompile(`--([a-z-]+): #([0-9a-f]{6});`)

// schemes reads the colours of the style sheet, light and dark.
func schemes(t *testing.T) map[string]map[string]string {
	t.Helper()
	css := string(assets["style.css"].content)
	light, rest, ok := strings.Cut(css, "@media (prefers-color-scheme: dark)")
	if !ok {
		t.Fatal("the style sheet has no dark scheme")
	}
	dark, _, _ := strings.Cut(rest, "\n}\n")
	all := map[string]map[string]string{}
	for name, text := range map[string]string{"light": light, "dark": dark} {
		all[name] = map[string]string{}
		for _, m := range colour.FindAllStringSubmatch(text, -1) {
			all[name][m[1]] = m[2]
		}
	}
	return all
}

func TestContrastOfTheColours(t *testing.T) {
	for scheme, colours := range schemes(t) {
		if len(colours) < 15 {
			t.Fatalf("%s: only %d colours found", scheme, len(colours))
		}
		for _, p := range pairs {
			over, under := colours[p.over], colours[p.under]
			if over == "" || under == "" {
				t.Errorf("%s has no %s or no %s", scheme, p.over, p.under)
				continue
			}
			if got := contrast(over, under); got < p.least {
				t.Errorf("%s: %s on %s has a contrast of %.2f, below %.1f", scheme, p.over, p.under, got, p.least)
			}
		}
	}
}

// Colours stand in the two lists and nowhere else, so that no other pair can
// come about; white paper and the drawing's own background excepted.
func TestColoursStandInTheListsOnly(t *testing.T) {
	css := string(assets["style.css"].content)
	for i, line := range strings.Split(css, "\n") {
		if strings.Contains(line, "--") && strings.Contains(line, ": #") || strings.Contains(line, "@media print") {
			continue
		}
		for _, m := range regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgb\(`).FindAllString(line, -1) {
			if m != "#ffffff" && m != "#999999" {
				t.Errorf("line %d: %s", i+1, strings.TrimSpace(line))
			}
		}
	}
}

// contrast is that of two colours (WCAG 2.2, relative luminance).
func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func luminance(hex string) float64 {
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			panic(fmt.Sprintf("%s is no colour", hex))
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// The formula itself, at its ends: black on white is 21, a colour on itself 1.
func TestContrastFormula(t *testing.T) {
	for _, tc := range []struct {
		a, b string
		want float64
	}{{"000000", "ffffff", 21}, {"777777", "777777", 1}, {"767676", "ffffff", 4.54}} {
		if got := contrast(tc.a, tc.b); math.Abs(got-tc.want) > 0.01 {
			t.Errorf("%s on %s: %.3f, want %.2f", tc.a, tc.b, got, tc.want)
		}
	}
}
