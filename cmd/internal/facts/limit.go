package facts

import (
	"fmt"

	"loudfor/optimizer"
)

// Limit is what keeps a build's reading from going higher, with its figure.
func Limit(b optimizer.Build) string {
	o := b.Operation
	text := o.Limit.String()
	switch text {
	case "cone travel":
		text += fmt.Sprintf(" (%s mm one way, rated %s mm)", Three(o.Travel*1e3), Three(b.Bass.Driver.Xmax*1e3))
	case "coil heat":
		text += fmt.Sprintf(" (%s K above the air)", Three(o.CoilRise))
	case "port speed":
		text += fmt.Sprintf(" (%s m/s)", Three(o.PortSpeed))
	case "amplifier voltage":
		text += fmt.Sprintf(" (%s V)", Three(o.Volts))
	case "amplifier current":
		text += fmt.Sprintf(" (%s A)", Three(o.Amps))
	case "supply":
		text += fmt.Sprintf(" (%s V at %s A)", Three(o.SupplyVolts), Three(o.SupplyAmps))
	}
	return text
}

// Balance says of a build's music which side is the weaker one; empty where
// nothing is known about it.
func Balance(s Speaker, b optimizer.Build) string {
	if b.Music.Bass == 0 {
		return ""
	}
	side := "the bass is the weaker side"
	if b.Music.FrontLimits {
		side = "the front is the weaker side"
	}
	return fmt.Sprintf("; bass %s over the bands from 31.5 to 80 Hz; %s", Level(s, b.Music.Bass, b.Music.BassBand), side)
}

// Front is what plays in front and what drives it.
func Front(s Speaker, f optimizer.Front) string {
	name := "the speakers that the car came with"
	if f.Part != nil {
		name = Name(f.Part)
	}
	if f.Power == optimizer.FromNothing {
		return name + "; nothing drives them"
	}
	text := fmt.Sprintf("%s, driven by %s", name, f.Power)
	if f.Amplifier != nil {
		text += " (" + Name(f.Amplifier) + ")"
	}
	if f.Given > 0 {
		text += fmt.Sprintf(": %s W a side", Three(f.Given))
		if f.Usable > 0 && f.Usable < f.Given*(1-UsableStep) {
			text += fmt.Sprintf(", of which %s W are usable (%s)", Three(f.Usable), f.Limit)
		}
	}
	switch {
	case f.HighPass > 0 && f.HighPassBy != "":
		text += fmt.Sprintf("; high-pass at %s by %s", Hertz(f.HighPass), f.HighPassBy)
	case f.HighPass > 0:
		text += "; high-pass at " + Hertz(f.HighPass)
	default:
		text += "; no high-pass"
	}
	if f.DB > 0 {
		text += "; " + Level(s, f.DB, f.Band) + " at the seat"
	}
	return text
}

// UsableStep is the part of the power below which a loss is not worth a word.
const UsableStep = 0.01

// Sentence makes a remark start and end as a sentence does.
func Sentence(text string) string {
	if text == "" {
		return text
	}
	if c := text[0]; c >= 'a' && c <= 'z' {
		text = string(c-'a'+'A') + text[1:]
	}
	if last := text[len(text)-1]; last != '.' && last != '!' && last != '?' {
		text += "."
	}
	return text
}
