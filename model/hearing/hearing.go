// Package hearing says what a level does to ears.
package hearing

import "time"

// AWeight is the A-weighting in dB at a frequency in Hz.
func AWeight(hz float64) float64 { return 0 }

// PermittedTime is how long a day an A-weighted level may be heard.
func PermittedTime(dba float64) time.Duration { return 0 }

// Words puts a permitted time in a few words for a table.
func Words(d time.Duration) string { return "" }
