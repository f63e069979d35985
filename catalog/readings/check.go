package readings

import (
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/units"
)

// What only shows when readings are held against the car and each other.

const (
	// usualTolerance stands in for a meter that nobody rated, dB.
	usualTolerance = 0.5

	// against is how many standard deviations apart two readings of the same
	// thing contradict each other.
	against = 4.0

	// sameTone and sameVolts are how near tones (octaves) and drives
	// (relative) are the same.
	sameTone  = 1.0 / 48
	sameVolts = 0.03
)

// Check holds readings against their car: places and openings that it does not
// have are errors; two readings that say different things are a warning with
// both places.
func Check(list []Reading, v catalog.Vehicle) *catalog.Report {
	report := &catalog.Report{}
	for i := range list {
		r := &list[i]
		if _, ok := v.Body.Place(r.Place); !ok {
			report.Add(r.unknown("place", fmt.Sprintf("%s has no place called %q", v.Name, r.Place), r.Place, "its places are "+strings.Join(v.Body.PlaceNames(), ", "), v.Body.PlaceNames()))
		}
		if _, ok := v.Body.Openings(r.Openings); !ok {
			report.Add(r.unknown("openings", fmt.Sprintf("%s cannot stand with %q", v.Name, r.Openings), r.Openings, "it can be "+v.Body.OpeningWords(), v.Body.OpeningNames()))
		}
		for k := range list[:i] {
			if first := &list[k]; r.contradicts(first) {
				report.Add(r.Problem(catalog.Warning, "level", fmt.Sprintf("%.1f dB at %g Hz, but another reading of the same says %.1f dB", r.Level, r.Frequency, first.Level),
					"if one of them is a slip, mend or remove it; as it stands the fit trusts both less").Citing(first.Source("level"), "the other reading"))
				break
			}
		}
	}
	return report
}

func (r *Reading) unknown(key, summary, word, detail string, names []string) catalog.Problem {
	if near := units.Nearest(word, names); near != "" {
		detail = fmt.Sprintf("did you mean %q? ", near) + detail
	}
	return r.Problem(catalog.Error, key, summary, detail)
}

// contradicts tells whether two readings of the same thing differ by more than
// their meters could.
func (r *Reading) contradicts(o *Reading) bool {
	same := strings.EqualFold(r.Vehicle, o.Vehicle) && r.Build == o.Build && r.Quote == o.Quote &&
		strings.EqualFold(r.Place, o.Place) && strings.EqualFold(r.Openings, o.Openings) &&
		math.Abs(math.Log2(r.Frequency/o.Frequency)) < sameTone
	if !same || (r.Volts > 0) != (o.Volts > 0) {
		return false
	}
	if r.Volts > 0 && math.Abs(math.Log(r.Volts/o.Volts)) > sameVolts {
		return false
	}
	return math.Abs(r.Level-o.Level) > against*math.Hypot(r.tolerance(), o.tolerance())
}

func (r *Reading) tolerance() float64 {
	if r.Tolerance > 0 {
		return r.Tolerance
	}
	return usualTolerance
}
