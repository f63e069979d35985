package install

import (
	"math"
	"math/cmplx"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

// Gain is the setting of the level knob: turned up until the meter at the
// amplifier's terminals shows the largest voltage that is still clean.
type Gain struct {
	Tone   float64 // Hz, a sine
	Level  float64 // dB full scale of the tone
	Rows   []GainRow
	Target float64 // V rms at one output
	// Held says that the drivers, not the amplifier, decide the target: By is
	// what stops them at the tone.
	Held bool
	By   bass.Limit

	FrontTone   float64 // Hz
	FrontTarget float64 // V rms at one front channel; 0: no gain to set
}

// GainRow is the clean limit into one load.
type GainRow struct {
	Load  string
	Ohms  float64
	Volts float64 // V rms at one output
	Watts float64 // real, one output
}

const (
	// bassTone and frontTone lie well inside what each side plays (common
	// practice, no source).
	bassTone  = 50.0   // Hz
	frontTone = 1000.0 // Hz

	// musicLevel: music is recorded with peaks near full scale and little of
	// it there, so gains are set with a tone some decibels down; a reading is
	// played at full scale (common practice, no source).
	musicLevel = -5.0 // dB full scale
)

// setGain fills in Gain.
func (p *Plan) setGain() {
	g := &p.Gain
	g.Tone, g.FrontTone = bassTone, frontTone
	if p.Question.Brief.Goal == catalog.GoalMusic {
		g.Level = musicLevel
	}
	drive := p.Build.Drive()
	add := func(load string, z complex128) (volts float64) {
		volts, watts := clean(drive.Source, z)
		g.Rows = append(g.Rows, GainRow{load, cmplx.Abs(z), volts, watts})
		return volts
	}
	g.Target = add("nominal, a resistor", complex(p.Build.Plan.Load, 0))
	// A card that states this very load may say a little less than its source.
	if w := p.Build.Bass.Amplifier.Amplifier.Spec.RatedWatts(p.Build.Plan.Mode, p.Build.Plan.Load); w > 0 && w < g.Rows[0].Watts {
		g.Target = math.Sqrt(w * p.Build.Plan.Load)
		g.Rows[0].Volts, g.Rows[0].Watts = g.Target, w
	}
	if o, ok := nearest(p.Build.Curve, g.Tone); ok {
		add("predicted at the tone", cmplx.Rect(o.Load, o.Phase))
		if o.Limit != bass.LimitVoltage && o.Limit != bass.LimitCurrent && o.Limit != bass.LimitSupply && o.Volts < g.Target {
			g.Target, g.Held, g.By = o.Volts, true, o.Limit
		}
	}
	if m := p.Wishes.MeasuredLoad; m > 0 {
		add("measured", complex(m, 0))
	}
}

// setFrontGain fills in the front's, behind the high-pass as it is to be set:
// the least of what the amplifier gives, the speakers are rated for, and the
// cones stand.
func (p *Plan) setFrontGain() {
	f := p.Build.Front
	if f.Power != optimizer.FromBass && f.Power != optimizer.FromOwn {
		return
	}
	s := p.Filters.Front
	s.HighPass = p.Filters.FrontCut
	watts := math.Min(f.Given, s.TravelWatts())
	if s.Power > 0 {
		watts = math.Min(watts, s.Power)
	}
	p.Gain.FrontTarget = math.Sqrt(watts * s.Load)
}

// clean is the largest undistorted voltage of a source into a load, and the
// real power there, at the supply of the ratings.
func clean(s amplifier.Source, z complex128) (volts, watts float64) {
	if cmplx.Abs(z) == 0 {
		return 0, 0
	}
	amps := math.Min(s.OpenVoltage/cmplx.Abs(z+complex(s.Resistance, 0)), s.Current)
	return amps * cmplx.Abs(z), amps * amps * real(z)
}

// nearest is the point of a curve at a frequency.
func nearest(curve []bass.Operation, hz float64) (best bass.Operation, ok bool) {
	for _, o := range curve {
		if !ok || math.Abs(math.Log(o.Hz/hz)) < math.Abs(math.Log(best.Hz/hz)) {
			best, ok = o, true
		}
	}
	return best, ok
}
