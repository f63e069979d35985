package build

import "math"

const (
	// Levels are rounded to thousandths of a decibel before they are compared:
	// finer than any meter, coarser than the rounding of floating point.
	StepsPerDB = 1000
	LevelStep  = 1.0 / StepsPerDB // dB
)

// BoundSlack in dB covers the rounding of floating point between a bound and the level
// that it bounds, which take different ways: a thousand times the rounding, a thousandth
// of LevelStep.
const BoundSlack = 1e-6

// Level is a level in steps of LevelStep.
type Level int64

// Silent is below every level.
const Silent = Level(math.MinInt64 / 4)

// Loudest is above every level.
const Loudest = -Silent

// Round is a number of decibels as a level.
func Round(db float64) Level { return Level(math.Round(db * StepsPerDB)) }

// DB is the level in decibels.
func (l Level) DB() float64 { return float64(l) / StepsPerDB }
