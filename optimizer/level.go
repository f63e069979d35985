package optimizer

import "math"

const (
	// Levels are rounded to thousandths of a decibel before they are compared:
	// finer than any meter, coarser than the rounding of floating point.
	stepsPerDB = 1000
	levelStep  = 1.0 / stepsPerDB // dB
)

// level is a level in steps of levelStep.
type level int64

// silent is below every level.
const silent = level(math.MinInt64 / 4)

// loudest is above every level.
const loudest = -silent

func round(db float64) level { return level(math.Round(db * stepsPerDB)) }

func (l level) dB() float64 { return float64(l) / stepsPerDB }
