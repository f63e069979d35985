package facts

import (
	"fmt"
	"math"
	"strings"

	"loudfor/model/supply"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// Answered is a customer's question with its answer.
type Answered struct {
	Name, Words string
	// Matters says that whoever buys should know it: what bothers in daily use, and
	// what is gained.
	Matters bool
}

// AskedHead stands above them.
const AskedHead = "What customers ask"

// Asked words what every customer asks about a build. What is not known has no
// line.
func Asked(s Speaker, b optimizer.Build, a *advice.Asked) (all []Answered) {
	add := func(name, words string, matters bool) { all = append(all, Answered{name, words, matters}) }
	if l := a.Lights; l != nil {
		add("lights", lights(s, b, l), dims(l.Note) != bright)
	}
	if r := a.Room; r != nil {
		free := r.Free
		boxes := "the box, which takes"
		if b.Bass.Boxes > 1 {
			boxes = "the boxes, which take"
		}
		add("room", fmt.Sprintf("%s (wide, deep, high) stay free %s %s %s.", Centimetres(free.Width, free.Depth, free.Height), r.Where, boxes,
			Centimetres(r.Taken.Width, r.Taken.Depth, r.Taken.Height)), true)
	}
	if l := a.Low; l != nil {
		middle := fmt.Sprintf("%s dB below the middle of the bass, %s", s.Figure(advice.LowFall, 0), Hertz(advice.LowMiddle))
		words := fmt.Sprintf("Down to %s Hz %s: there it is %s.", s.Join(s.Figure(l.Hz, 0), s.Figure(math.Max(l.Band, 1), 0)), Where(l.Place, "shut"), middle)
		if l.Ends {
			words = fmt.Sprintf("Below %s %s: even there it is less than %s.", Hertz(l.Hz), Where(l.Place, "shut"), middle)
		}
		if l.Tuning > l.Hz {
			words += fmt.Sprintf(" Loud only down to %s, where the port is tuned.", Hertz(l.Tuning))
		}
		add("how low", words, false)
	}
	if len(a.Windows) > 0 {
		var words []string
		for _, w := range a.Windows {
			words = append(words, Level(s, w.Level, w.Band)+" "+w.Openings)
		}
		add("windows", fmt.Sprintf("On the meter %s, %s.", Where(a.Windows[0].Place, ""), strings.Join(words, ", ")), false)
	}
	if f := a.Before; f != nil {
		add("before", fmt.Sprintf("Today no bass and music at %s; then %s on the meter and music at %s.", Level(s, f.DB, f.Band), Level(s, b.Reading.DB, b.Reading.Band), Level(s, b.Music.DB, b.Music.Band)), true)
	}
	return all
}

// leastDip is what a meter shows, V.
const leastDip = 0.05

// lights says what the bass does to lamps, and what would mend it.
func lights(s Speaker, b optimizer.Build, l *advice.Lights) string {
	dip := func(d advice.Sag) string { return s.Join(s.Figure(d.Dip, 1), s.Figure(d.Band, 1)) + " V" }
	text := fmt.Sprintf("On a full bass note the battery falls from %s to %s V (by %s, engine idling): lamps %s.",
		s.Figure(l.Idle, 1), s.Figure(l.Note.Volts, 1), dip(l.Note), dims(l.Note))
	if l.Music.Dip+l.Music.Band < leastDip {
		text += " In music it does not fall."
	} else {
		text += fmt.Sprintf(" In music it falls by %s: they %s.", dip(l.Music), dims(l.Music))
	}
	if !l.Note.Dims() {
		return text
	}
	mends := []string{s.Figure(math.Ceil(l.Quieter*10)/10, 1) + " dB less volume"}
	if l.Mend != nil {
		mends = append(mends, fmt.Sprintf("%s (%s)", Change(b.Lines, l.Mend.Build.Lines), Dearer(s, l.Mend.Cost)))
	}
	if l.Alternator > 0 {
		mends = append(mends, fmt.Sprintf("an alternator of %s A", s.Figure(math.Ceil(l.Alternator), 0)))
	}
	text += " What mends it: " + strings.Join(mends, ", or ") + "."
	if l.Mend == nil {
		text += " Nothing else in this catalogue does."
	}
	return text
}

const bright = "do not visibly dim"

// dims says how sure that is.
func dims(d advice.Sag) string {
	switch {
	case d.Dip-d.Band >= supply.VisibleDip:
		return "visibly dim"
	case d.Dims():
		return "probably dim"
	case d.Dip+d.Band >= supply.VisibleDip:
		return "may dim"
	}
	return bright
}
