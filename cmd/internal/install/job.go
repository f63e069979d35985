// Package install works out what an installer needs beside the parts: wiring,
// power, gain, filters, what the meters will show, and what has to fit; and
// words it as a sheet.
//
//	plan, err := install.Of(install.Job{Question: q, Build: build, Expected: expected})
//	if err != nil {
//		return err // a cable, a fuse or a space that cannot be, with its number
//	}
//	err = plan.Sheet().Write(os.Stdout, sheet.HTML, style)
//
// Of computes and refuses; Sheet only words what Of found, so that figures and
// words cannot part. A sheet is all or nothing: with a fuse that cannot be right
// there is none, because the rest would be followed all the same.
//
// Limits: cable in free air at 20 C, one feed from the battery to all
// amplifiers, filters as ideal Butterworth ones; where the wires run in a car
// is for the installer to see.
package install

import (
	"errors"
	"fmt"

	"loudfor/catalog"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/sheet"
	"loudfor/model/air"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// Job is what a sheet is made for.
type Job struct {
	Question answer.Question
	Build    optimizer.Build
	Expected []optimizer.Expected // elsewhere in the car; may be empty
	Wishes   Wishes
	Extra    []sheet.Section // stand before Fit, such as the cut list of a box that the shop builds
}

// Wishes are the installer's own figures; zero: not given.
type Wishes struct {
	Drop         float64 // V that the power cable may lose; zero: supply.DropAdvised
	Fuse         float64 // A at the battery
	MeasuredLoad float64 // ohm at one output of the bass amplifier
}

// Plan is everything on a sheet, in figures.
type Plan struct {
	Job
	Power   Power
	Gain    Gain
	Filters Filters
	Fit     []Check
}

// Of works a plan out. The error joins all refusals.
func Of(j Job) (*Plan, error) {
	if j.Build.Bass.Amplifier == nil || j.Build.Bass.Part == nil {
		return nil, errors.New("a sheet needs a build with a driver, a box and an amplifier")
	}
	p := &Plan{Job: j}
	if p.Wishes.Drop == 0 {
		p.Wishes.Drop = supply.DropAdvised
	}
	err := errors.Join(p.feed(), p.fit())
	p.setGain()
	err = errors.Join(err, p.filter())
	p.setFrontGain()
	return p, err
}

// of finds the first part of a kind in the build.
func (p *Plan) of(kind catalog.Kind) *catalog.Part {
	for _, l := range p.Build.Lines {
		if l.Part.Kind == kind {
			return l.Part
		}
	}
	return nil
}

// Air is that of the brief.
func (j *Job) Air() air.Air { return air.At(j.Question.Brief.Celsius) }

// power is an amplifier of the build with how many of it.
type power struct {
	part  *catalog.Part
	count int
	front bool // it drives the front alone
}

// amplifiers lists those of the bass, then that of the front's own.
func (p *Plan) amplifiers() []power {
	all := []power{{p.Build.Bass.Amplifier, max(p.Build.Bass.Amplifiers, 1), false}}
	if p.Build.Front.Power == optimizer.FromOwn && p.Build.Front.Amplifier != nil {
		all = append(all, power{p.Build.Front.Amplifier, 1, true})
	}
	return all
}

// several says a count before a word where it is more than one.
func several(n int, word string) string {
	if n > 1 {
		return fmt.Sprintf("%d x %s", n, word)
	}
	return word
}
