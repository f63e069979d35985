package prices

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"loudfor/catalog/expression"
	"loudfor/catalog/units"
)

// Date is a day of the calendar, without an hour and a place: a price holds
// for the day that stands in the list, wherever the reader is. The zero value
// means that no day is stated, and is before every day.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// The years in which price lists are dated.
const (
	firstYear = 1990
	lastYear  = 2100
)

// DateOf is the day of a time in its own place.
func DateOf(t time.Time) Date {
	var d Date
	d.Year, d.Month, d.Day = t.Date()
	return d
}

// String writes the day as 2025-03-09; empty if none is stated.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day)
}

// IsZero tells whether no day is stated.
func (d Date) IsZero() bool { return d == Date{} }

// Compare orders days.
func (d Date) Compare(e Date) int {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day))
}

// MarshalText writes the day as String does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes, and all that ParseDate reads.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	day, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = day
	return nil
}

func (d Date) exists() bool {
	t := time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
	return d.Year >= firstYear && d.Year <= lastYear && DateOf(t) == d
}

const dateRemedy = "write year-month-day, such as 2025-03-09"

// The forms of a date. With dots the day comes first everywhere; with slashes
// it depends on the country, so both readings are tried.
var (
	yearFirst = expression.Late(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ][0-9:.Z+-]*)?$`)
	dotted    = expression.Late(`^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$`)
	slashed   = expression.Late(`^(\d{1,2})[/-](\d{1,2})[/-](\d{4})$`)
	dayMonth  = expression.Late(`^(\d{1,2})[. -]+([A-Za-z]{3,9})[., -]+(\d{4})$`)
	monthDay  = expression.Late(`^([A-Za-z]{3,9})[. -]+(\d{1,2}),? +(\d{4})$`)
)

// ParseDate reads 2025-03-09, 9.3.2025, 9 Mar 2025 or March 9, 2025; 25/3/2025
// has one reading as well, 9/3/2025 has two and is refused.
func ParseDate(text string) (Date, *units.Error) {
	s := strings.TrimSpace(text)
	if len(s) > 40 {
		return badDate(text, "is not a date")
	}
	if m := yearFirst().FindStringSubmatch(s); m != nil {
		return checked(text, day(m[1], m[2], m[3]))
	}
	if m := dotted().FindStringSubmatch(s); m != nil {
		return checked(text, day(m[3], m[2], m[1]))
	}
	if m := dayMonth().FindStringSubmatch(s); m != nil {
		return checked(text, day(m[3], m[2], m[1]))
	}
	if m := monthDay().FindStringSubmatch(s); m != nil {
		return checked(text, day(m[3], m[1], m[2]))
	}
	if m := slashed().FindStringSubmatch(s); m != nil {
		first, second := day(m[3], m[2], m[1]), day(m[3], m[1], m[2])
		if first.exists() && second.exists() && first != second {
			return Date{}, &units.Error{Summary: fmt.Sprintf("%q can mean %s or %s", s, first, second),
				Remedy: dateRemedy, End: len(text)}
		}
		if second.exists() {
			first = second
		}
		return checked(text, first)
	}
	return badDate(text, "is not a date")
}

func badDate(text, why string) (Date, *units.Error) {
	if len(text) > 40 {
		text = strings.ToValidUTF8(text[:40], "") + "..."
	}
	return Date{}, &units.Error{Summary: fmt.Sprintf("%q %s", text, why), Remedy: dateRemedy, End: len(text)}
}

func checked(text string, d Date) (Date, *units.Error) {
	if !d.exists() {
		return badDate(text, fmt.Sprintf("is no day between %d and %d", firstYear, lastYear))
	}
	return d, nil
}

// day makes a date of digits and, for the month, digits or an English name;
// what is none of these gives a date that does not exist.
func day(year, month, dayOfMonth string) Date {
	y, _ := strconv.Atoi(year)
	d, _ := strconv.Atoi(dayOfMonth)
	m, err := strconv.Atoi(month)
	if err != nil {
		for k := time.January; k <= time.December; k++ {
			name := k.String()
			if strings.EqualFold(month, name) || strings.EqualFold(month, name[:3]) || k == time.September && strings.EqualFold(month, "sept") {
				m = int(k)
			}
		}
	}
	return Date{y, time.Month(m), d}
}
