package prices

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseDate(t *testing.T) {
	for text, want := range map[string]string{
		"2025-03-09": "2025-03-09", "2025-3-9": "2025-03-09", " 2025/03/09 ": "2025-03-09", "2025.03.09": "2025-03-09", "2025-03-09T23:59:59+02:00": "2025-03-09", "2025-03-09 00:00:00": "2025-03-09",
		"9.3.2025": "2025-03-09", "09. 03. 2025": "2025-03-09", "25/3/2025": "2025-03-25", "3/25/2025": "2025-03-25", "3/3/2025": "2025-03-03", "25-12-2025": "2025-12-25",
		"9 Mar 2025": "2025-03-09", "9-Mar-2025": "2025-03-09", "9. march 2025": "2025-03-09", "March 9, 2025": "2025-03-09", "Sept 9 2025": "2025-09-09", "29.2.2024": "2024-02-29",
	} {
		if got, err := ParseDate(text); err != nil || got.String() != want {
			t.Errorf("%q is %s, %v; want %s", text, got, err, want)
		}
	}
	for text, words := range map[string]string{
		"9/3/2025": "can mean 2025-03-09 or 2025-09-03", "2025-02-29": "is no day", "31.4.2025": "is no day", "13/13/2025": "is no day", "2025-13-01": "is no day", "0.0.2025": "is no day",
		"": "is not a date", "soon": "is not a date", "2025": "is not a date", "9.3.25": "is not a date", "1989-12-31": "is no day", "2101-01-01": "is no day", "9 Foo 2025": "is no day",
		"٢٠٢٥-٠٣-٠٩": "is not a date", strings.Repeat("9", 1000): "is not a date",
	} {
		if got, err := ParseDate(text); err == nil || !strings.Contains(err.Summary, words) || err.Remedy == "" || len(err.Summary) > 120 {
			t.Errorf("%q is %s, %v; want %q", text, got, err, words)
		}
	}
}

// Every day comes back from its text, and days are in the order of time.
func TestDates(t *testing.T) {
	day := func(t *rapid.T, label string) (Date, time.Time) {
		at := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 40_000).Draw(t, label))
		return DateOf(at), at
	}
	rapid.Check(t, func(t *rapid.T) {
		d, at := day(t, "d")
		e, bt := day(t, "e")
		if back, err := ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("%s is read as %s, %v", d, back, err)
		}
		var back Date
		if text, err := json.Marshal(d); err != nil || json.Unmarshal(text, &back) != nil || back != d {
			t.Fatalf("%s through JSON is %s", d, back)
		}
		if d.Compare(e) != at.Compare(bt) || !d.exists() || DateOf(at) != d {
			t.Fatalf("%s and %s", d, e)
		}
	})
	if (Date{}).String() != "" || !(Date{}).IsZero() || (Date{}).Compare(Date{2025, 1, 1}) >= 0 {
		t.Error("no day is not before every day")
	}
}
