package versus

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// What can be adjusted after the installation decides whether a system can be
// made to sound right at all: two builds of one level differ in it.

// Control is one thing that can be adjusted, and who has it.
type Control struct {
	Name, Key string
	Has       func(b optimizer.Build) string // in words; "no" where nothing has it
}

// Controls are those that a builder asks about.
var Controls = []Control{
	{"high-pass, front", "high_pass", func(b optimizer.Build) string {
		if b.Front.HighPass == 0 {
			return "no"
		}
		text := fmt.Sprintf("%.0f Hz", b.Front.HighPass)
		if b.Front.HighPassBy != "" {
			text += ", " + b.Front.HighPassBy
		}
		return text
	}},
	{"low-pass, bass", "low_pass", func(b optimizer.Build) string {
		return having(b, func(a *catalog.Amplifier) bool { return a.LowPass }, func(s *catalog.Source) bool { return s.LowPass })
	}},
	// No list states a gain: every power amplifier has one (common practice, no
	// source).
	{"gain", "gain", func(b optimizer.Build) string {
		return having(b, func(*catalog.Amplifier) bool { return true }, func(*catalog.Source) bool { return false })
	}},
	{"bass control", "bass_control", func(b optimizer.Build) string {
		return having(b, func(a *catalog.Amplifier) bool { return a.BassControl }, func(s *catalog.Source) bool { return s.BassControl })
	}},
}

// having names the parts of the bass's path that have something.
func having(b optimizer.Build, amplifier func(*catalog.Amplifier) bool, source func(*catalog.Source) bool) string {
	var who []string
	for _, l := range b.Lines {
		switch p := l.Part; {
		case p.Source != nil && source(p.Source):
			who = append(who, p.SKU)
		case b.Bass.Amplifier != nil && p.SKU == b.Bass.Amplifier.SKU && amplifier(p.Amplifier):
			who = append(who, p.SKU)
		}
	}
	if len(who) == 0 {
		return "no"
	}
	return strings.Join(who, " and ")
}
