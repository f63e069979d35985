package hearing

import (
	"fmt"
	"math"
	"time"
)

// How long ears may stand a level, after NIOSH publication 98-126 (Criteria
// for a recommended standard: occupational noise exposure, 1998): 85 dBA for
// 8 hours a day, half the time for every 3 dB more.
const (
	CriterionLevel = 85.0 // dBA
	CriterionTime  = 8 * time.Hour
	ExchangeRate   = 3.0 // dB that halve the time

	// CeilingLevel is where NIOSH 98-126 permits no exposure at all, dBA.
	CeilingLevel = 140.0

	// ImmediateLevel is where pain begins and a short exposure can already
	// do lasting harm, dB unweighted (common practice, no source).
	ImmediateLevel = 120.0
)

// PermittedTime is how long a day an A-weighted level in dBA may be heard:
// 8 h / 2^((level-85)/3), at most 24 h; nothing from 140 dBA on. A level that
// is no number permits nothing.
func PermittedTime(dba float64) time.Duration {
	if !(dba < CeilingLevel) {
		return 0
	}
	hours := CriterionTime.Hours() * math.Exp2((CriterionLevel-dba)/ExchangeRate)
	const day = 24 * time.Hour
	if hours >= day.Hours() {
		return day
	}
	return time.Duration(hours * float64(time.Hour))
}

// Words puts a permitted time in a few words for a table: "all day",
// "2 h 31 min a day", "15 min a day", "9 s a day", "less than 1 s a day",
// "not at all". Times are rounded down, never up.
func Words(d time.Duration) string {
	switch {
	case d <= 0:
		return "not at all"
	case d < time.Second:
		return "less than 1 s a day"
	case d < time.Minute:
		return fmt.Sprintf("%d s a day", d/time.Second)
	case d < time.Hour:
		return fmt.Sprintf("%d min a day", d/time.Minute)
	case d < 24*time.Hour:
		hours, minutes := d/time.Hour, d%time.Hour/time.Minute
		if minutes == 0 {
			return fmt.Sprintf("%d h a day", hours)
		}
		return fmt.Sprintf("%d h %d min a day", hours, minutes)
	}
	return "all day"
}

// Caution is the warning that belongs beside a level in dB and its A-weighted
// value; empty below the level at which time starts to matter.
func Caution(level, dba float64) string {
	switch {
	case level >= ImmediateLevel || dba >= ImmediateLevel:
		return "this level can harm hearing at once: wear protection, keep readings short"
	case dba >= CriterionLevel:
		return fmt.Sprintf("this level harms hearing with time: %s at most", Words(PermittedTime(dba)))
	}
	return ""
}
