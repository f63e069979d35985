package bass

import (
	"errors"
	"fmt"
	"math"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// What goes in: a Setup of drivers and boxes, and a Drive of amplifier and
// supply. They are kept apart because a search pairs each with many of the
// other.

// Setup is Boxes equal boxes side by side, each full of equal drivers.
type Setup struct {
	Driver driver.Driver
	Box    enclosure.Box
	Boxes  int
	// Displacement is the volume that one driver takes up in its box, m3;
	// 0: the usual one for its size.
	Displacement float64
	Air          air.Air
}

// Drive is everything that does not depend on the box.
type Drive struct {
	Outputs int // equal amplifier outputs in use, all amplifiers together
	// Series and Parallel are the coils on EACH output: Parallel strings of
	// Series coils. Outputs*Series*Parallel must be all coils (Setup's boxes
	// x drivers x coils); Fits tells.
	Series, Parallel int
	Source           amplifier.Source // one output
	Feed             supply.Feed
}

// Limits is how far the equipment is pushed.
type Limits struct {
	// Overdrive is the largest travel in Xmax; held between 0 and MostOverdrive.
	Overdrive float64
	Burst     float64 // how long the tone lasts, s; +Inf: steady
	PortSpeed float64 // peak speed of the air in the port, m/s
	CoilRise  float64 // of the coil above ambient, K
	// Crest is peak over rms of the programme in dB. It only concerns heat:
	// voltage, current, travel and port speed are matters of the peaks, and
	// at equal peaks a programme of that crest heats the coil less than a
	// sine (3.01 dB) does, by the difference. 0: a sine.
	Crest float64
}

const (
	// MostOverdrive is as far as the laws of force factor and stiffness go.
	MostOverdrive = driver.TravelModelled

	// mostPortSpeed: beyond, compression and noise leave nothing to be
	// gained (common practice, no source).
	mostPortSpeed = 30.0

	// readingOverdrive is how far past Xmax a burst for the meter is pushed
	// (common practice, no source).
	readingOverdrive = 1.3
	readingBurst     = 3.0 // s, until the meter has settled (common practice, no source)

	// mostCoilRise is what a coil stands (common practice, no source): the
	// same rise that defines the thermal resistance from the rated power.
	mostCoilRise = driver.RatedRise

	// musicCrest: bass-heavy music has peaks some 12 dB above its rms (common
	// practice, no source).
	musicCrest = 12.0

	// sineCrest is 20 log10 sqrt 2.
	sineCrest = 3.0103
)

// Reading is how people meter: a short burst, past the linear travel.
func Reading() Limits {
	return Limits{Overdrive: readingOverdrive, Burst: readingBurst, PortSpeed: mostPortSpeed, CoilRise: mostCoilRise}
}

// Music is what can be listened to: linear travel, for hours.
func Music() Limits {
	return Limits{Overdrive: 1, Burst: math.Inf(1), PortSpeed: mostPortSpeed, CoilRise: mostCoilRise, Crest: musicCrest}
}

// heatFactor is the heat relative to that of a sine with the same peaks. The
// programme's rms is Crest below its peaks and a sine's is 3.01 dB below them,
// so that the mean power is Crest - 3.01 dB below that of the sine. A crest
// below a sine's (a clipped wave) heats more.
func (l Limits) heatFactor() float64 {
	switch l.Crest {
	case 0:
		return 1
	case musicCrest:
		return musicHeat
	}
	return math.Pow(10, (sineCrest-l.Crest)/10)
}

var musicHeat = math.Pow(10, (sineCrest-musicCrest)/10)

// Limit is what keeps the level from going higher.
type Limit int

const (
	LimitVoltage Limit = iota
	LimitCurrent
	LimitSupply
	LimitTravel
	LimitHeat
	LimitPort
	// LimitNone is that of an Operation at a given voltage.
	LimitNone
)

func (l Limit) String() string {
	switch l {
	case LimitVoltage:
		return "amplifier voltage"
	case LimitCurrent:
		return "amplifier current"
	case LimitSupply:
		return "supply"
	case LimitTravel:
		return "cone travel"
	case LimitHeat:
		return "coil heat"
	case LimitPort:
		return "port speed"
	}
	return "none"
}

// gridPoints of 1/24 octave each from gridStart reach up to just below 120 Hz.
const (
	gridStart     = 20.0
	gridPoints    = 63
	gridPerOctave = 24
)

// Grid is the frequencies of a prediction, Hz: 1/24 octave from 20 to 120.
func Grid() []float64 {
	hz := make([]float64, gridPoints)
	for i := range hz {
		hz[i] = gridStart * math.Exp2(float64(i)/gridPerOctave)
	}
	return hz
}

func (s *Setup) check(room *cabin.Response) error {
	if s.Boxes < 1 {
		return fmt.Errorf("number of boxes %d: there must be at least one", s.Boxes)
	}
	d := &s.Driver
	if d.Coils < 1 {
		return fmt.Errorf("number of voice coils %d: a driver has at least one", d.Coils)
	}
	for _, q := range [...]struct {
		name  string
		value float64
	}{
		{"Re", d.Re}, {"Bl", d.Bl}, {"Mms", d.Mms}, {"Cms", d.Cms}, {"Rms", d.Rms},
		{"Sd", d.Sd}, {"Xmax", d.Xmax}, {"Power", d.Power}, {"Size", d.Size},
	} {
		if !(q.value > 0) || math.IsInf(q.value, 0) {
			return fmt.Errorf("driver's %s %g: must be above zero", q.name, q.value)
		}
	}
	if !(d.Le >= 0) || !(d.L2 >= 0) || !(d.R2 >= 0) {
		return errors.New("driver's inductance must not be negative")
	}
	if room == nil || len(room.Hz) == 0 {
		return errors.New("the cabin's response has no frequencies")
	}
	if len(room.Transfer) != len(room.Hz) || len(room.Back) != len(room.Hz) {
		return errors.New("the cabin's response has columns of different length")
	}
	last := 0.0
	for i, f := range room.Hz {
		if !(f > last) || f < lowestHz || f > highestHz {
			return fmt.Errorf("frequency %g Hz of the cabin's response: must rise from at least %g to at most %g", f, lowestHz, highestHz)
		}
		if !finite(room.Transfer[i]) || !finite(room.Back[i]) {
			return fmt.Errorf("the cabin's response at %g Hz is not finite", f)
		}
		last = f
	}
	return nil
}

// lowestHz and highestHz: no lumped box means anything there; they guard the
// arithmetic.
const (
	lowestHz  = 1e-3
	highestHz = 1e5
)

func finite(z complex128) bool {
	s := math.Abs(real(z)) + math.Abs(imag(z))
	return s <= math.MaxFloat32 // and not NaN; squares must not overflow either
}
