package learning

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// Reading is what the meters showed once. Values that were not measured are
// zero.
type Reading struct {
	Case      int // number of the build in the study
	Place     string
	Openings  string
	Hz        float64
	DB        float64
	Tolerance float64 // one standard deviation of the level meter, dB; 0: UsualTolerance
	Volts     float64 // V rms at one output of the amplifier
	Amps      float64 // A rms from it
	Supply    float64 // V at the amplifier's supply terminals
}

// UsualTolerance is what a hand-held meter held by a hand scatters by, dB
// (common practice, no source; a class 2 meter of IEC 61672-1 may be off by
// more than a decibel at 40 Hz, but then it is off for all readings alike).
const UsualTolerance = 0.5

// How well a clamp meter and a voltmeter read tones, as relative standard
// deviations (common practice, no source). The clamp has the coil's position
// around the wire in it.
const (
	voltsTolerance = 0.02
	ohmsTolerance  = 0.04
)

// Case is one metered build, ready to be computed.
type Case struct {
	Name            string
	Setup           bass.Setup
	Drive           bass.Drive  // at full output
	Limits          bass.Limits // of a reading
	AmplifierSpread float64     // relative, of its open voltage
}

// CaseOf makes a case of a predicted build.
func CaseOf(name string, b optimizer.Build, brief catalog.Brief) Case {
	spec := b.Bass.Amplifier.Amplifier.Spec
	source, _, _, _ := spec.Source(b.Plan.Mode)
	c := Case{
		Name:   name,
		Setup:  bass.Setup{Driver: b.Bass.Driver, Box: b.Bass.Box, Boxes: b.Bass.Boxes, Air: air.At(brief.Celsius)},
		Drive:  bass.Drive{Outputs: b.Bass.Amplifiers * b.Plan.Outputs, Series: b.Plan.Series, Parallel: b.Plan.Parallel, Source: source, Feed: b.Feed},
		Limits: bass.Reading(), AmplifierSpread: spec.Spread(b.Plan.Mode),
	}
	if b.Bass.Part.Kind == catalog.KindSubwoofer {
		c.Setup.Displacement = b.Bass.Part.Subwoofer.Displacement
	}
	if brief.Overdrive > 0 {
		c.Limits.Overdrive = brief.Overdrive
	}
	if brief.Burst > 0 {
		c.Limits.Burst = brief.Burst
	}
	return c
}

// The unknowns of a case, in the order of the vector, and their relative
// spreads where the driver's own do not say.
const (
	driverUnknowns = 9
	ampVolts       = driverUnknowns + iota - 1
	ampResistance
	boxVolume
	boxLeak
	boxAbsorption
	caseUnknowns
)

var caseNames = [caseUnknowns]string{
	"driver Re", "driver Le", "driver fs", "driver Qms", "driver Qes", "driver mass", "driver Sd", "driver Xmax", "driver power",
	"amplifier voltage", "amplifier resistance", "box volume", "box leakage QL", "box absorption QA",
}

const (
	resistanceSpread = 0.4  // of an amplifier's internal resistance, which comes from a usual rise
	volumeSpread     = 0.05 // of a box's volume: walls, bracing, a rounded figure
	statedLossSpread = 0.2  // of losses that somebody measured
)

// varied is the case with its unknowns moved by z standard deviations.
func (c *Case) varied(z []float64) (bass.Setup, bass.Drive) {
	s, d := c.Setup, c.Drive
	s.Driver = s.Driver.Vary([driverUnknowns]float64(z[:driverUnknowns]))
	volts := math.Exp(c.AmplifierSpread * z[ampVolts])
	d.Source.OpenVoltage *= volts
	d.Source.Current *= volts
	d.Source.Resistance *= math.Exp(resistanceSpread * z[ampResistance])
	volume := math.Exp(volumeSpread * z[boxVolume])
	s.Box.Volume *= volume
	s.Box.FrontVolume *= volume
	s.Box.LeakQ = lossy(s.Box.LeakQ, s.Box.Kind.LeakPrior(), z[boxLeak])
	s.Box.AbsorptionQ = lossy(s.Box.AbsorptionQ, enclosure.AbsorptionPrior, z[boxAbsorption])
	return s, d
}

func lossy(q, prior, z float64) float64 {
	if q == 0 {
		return prior * math.Exp(enclosure.LossSpread*z)
	}
	return q * math.Exp(statedLossSpread*z)
}

// at is the drive for a reading: at the clamp's voltage, or at full output.
// What was measured at the supply replaces what the supply was taken for.
func (r *Reading) full(d bass.Drive) bass.Drive {
	if r.Supply > 0 {
		d.Feed = supply.Feed{Volts: r.Supply, Reserve: endless}
	}
	return d
}

// endless, A, is a supply that does not sag below what was measured.
const endless = 1e6

// clamped is a drive that holds a voltage at the output whatever it takes.
func clamped(d bass.Drive, volts float64) bass.Drive {
	d.Source.OpenVoltage, d.Source.Resistance, d.Source.Current = volts, 0, math.MaxFloat32
	d.Feed = supply.Stiff()
	return d
}

// unlimited are the limits of a reading at a measured voltage: what the parts
// stood, they stood.
func unlimited(l bass.Limits) bass.Limits {
	l.Overdrive, l.CoilRise, l.PortSpeed = bass.MostOverdrive, math.Inf(1), math.Inf(1)
	return l
}

// Study is a car, the builds that were metered in it, and the readings.
type Study struct {
	Body     cabin.Body
	Celsius  float64
	Cases    []Case
	Readings []Reading

	cabins   int // unknowns of the car
	unknowns int
}

// NewStudy checks what is to be studied. A body that was learned before is
// taken as that: its Learned is the state of knowledge from which Prior
// foretells; Fit begins anew from the car as stated.
func NewStudy(body cabin.Body, celsius float64, cases []Case, readings []Reading) (*Study, error) {
	if len(cases) == 0 {
		return nil, fmt.Errorf("no build was metered")
	}
	s := &Study{Body: body, Celsius: celsius, Cases: cases, Readings: readings, cabins: len(body.Unknowns())}
	s.unknowns = s.cabins + len(cases)*caseUnknowns
	for i := range readings {
		r := &readings[i]
		switch {
		case r.Case < 0 || r.Case >= len(cases):
			return nil, fmt.Errorf("reading %d: there is no build %d", i+1, r.Case+1)
		case !(r.Hz > 0) || !(r.DB > 0) || r.Hz > mostHz || r.DB > mostDB:
			return nil, fmt.Errorf("reading %d: %g dB at %g Hz cannot be", i+1, r.DB, r.Hz)
		case r.Tolerance < 0 || r.Volts < 0 || r.Amps < 0 || r.Supply < 0:
			return nil, fmt.Errorf("reading %d: a negative value", i+1)
		}
		if r.Tolerance == 0 {
			r.Tolerance = UsualTolerance
		}
	}
	return s, nil
}

// What is no reading of bass in a car.
const (
	mostHz = 500.0
	mostDB = 200.0
)

// part is where the unknowns of a case stand.
func (s *Study) part(x []float64, c int) []float64 {
	from := s.cabins + c*caseUnknowns
	return x[from : from+caseUnknowns]
}
