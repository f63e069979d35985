package tables

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
)

// Many lists state all powers of an amplifier in one cell of a column "power":
// "500 W RMS @ 1 ohm", "4 x 75 W @ 4 ohm, 4 x 110 W @ 2 ohm", "2 ohm: 300 W",
// "300/500/800 W @ 4/2/1". Each figure belongs to a load that stands beside it; a
// cell of which one word is not understood, or a figure without a load, is refused.
// Common practice, no source.

// watts and ohms of a cell as spoken leaves it.
const (
	spokenWatts = `(?:(\d) x )?(\d+(?:\.\d+)?)(?: (?:w|watt|rms))*(?: x (\d)(?: (?:channels?|ch))?)?`
	spokenOhms  = `(\d+(?:\.\d+)?) ohm`
	spokenModes = `((?: (?:mono|stereo|bridged|continuous))*)`
)

var (
	wattsFirst = expression.Late(`^` + spokenModes + ` ` + spokenWatts + spokenModes + `(?: (?:@|at|in|into|/|x|rms))* ` + spokenOhms + spokenModes + `(?: |$)`)
	ohmsFirst  = expression.Late(`^` + spokenModes + ` ` + spokenOhms + spokenModes + `(?: (?:=|/|@))* ` + spokenWatts + spokenModes + `(?: |$)`)
	// wattsInRow are several powers before as many loads.
	wattsInRow = expression.Late(`^((?: \d+(?:\.\d+)? /)+ \d+(?:\.\d+)?)(?: (?:w|watt|rms))*(?: (?:@|at|in|into))+((?: \d+(?:\.\d+)?(?: ohm)? /)+ \d+(?:\.\d+)?)(?: ohm)?$`)
	// grouping is a blank or a sign between thousands.
	grouping  = expression.Late(`(^|[^\d.,])(\d{1,2})[., \x{a0}\x{202f}](\d{3})(\s*[wW])`)
	commas    = expression.Late(`(\d),(\d)`)
	beside    = expression.Late(`(\d)([^\d\s.])|([^\d\s.])(\d)`)
	supply    = expression.Late(`(?: (?:@|at|,|/|in))* (1[1-6](?:\.\d+)?) v(?:olts?)?( |$)`)
	following = expression.Late(`^(?: (?:[,;|+&/]|and|und|et|y|e|en|i|oraz|bzw))+ `)
)

// spoken is a cell in English words, numbers and words apart; volts is the voltage
// at which its powers hold, empty where it states none or several.
func spoken(text string) (said, volts string) {
	text = grouping().ReplaceAllString(text, "$1$2$3$4")
	text = commas().ReplaceAllString(text, "$1.$2")
	for range 2 { // matches that touch
		text = beside().ReplaceAllString(text, "$1$3 $2$4")
	}
	said = " " + strings.NewReplacer("×", "x", " per channel", "", " rms power", " w").Replace(trade.Heading(strings.ReplaceAll(text, ";", " , ")))
	said = strings.NewReplacer(" ( ", " @ ", " [ ", " @ ", " )", "", " ]", "").Replace(said)
	for _, m := range supply().FindAllStringSubmatch(said, -1) {
		if volts != "" && volts != m[1] {
			return said, ""
		}
		volts = m[1]
	}
	return supply().ReplaceAllString(said, "$2"), volts
}

// loads are the ratings of a cell; channels are the amplifier's, 0: not stated.
func loads(text string, c grid.Cell, channels int) ([]*yaml.Node, error) {
	if ofAMoment(text) {
		return nil, fmt.Errorf("%q names the power of a moment", text)
	}
	said, volts := spoken(text)
	if m := wattsInRow().FindStringSubmatch(said); m != nil {
		watts, ohms := strings.Split(m[1], "/"), strings.Split(strings.ReplaceAll(m[2], " ohm", ""), "/")
		if len(watts) != len(ohms) {
			return nil, fmt.Errorf("%q has %d powers and %d loads", text, len(watts), len(ohms))
		}
		said = ""
		for i := range watts {
			said += fmt.Sprintf(" , %s w @ %s ohm", strings.TrimSpace(watts[i]), strings.TrimSpace(ohms[i]))
		}
		said = said[len(" ,"):]
	}
	var out []*yaml.Node
	for rest := said; strings.TrimSpace(rest) != ""; {
		var modes, count, watts, load string
		var end int
		if m := wattsFirst().FindStringSubmatch(rest); m != nil {
			modes, count, watts, load, end = m[1]+m[5]+m[7], m[2]+m[4], m[3], m[6], len(m[0])
		} else if m := ohmsFirst().FindStringSubmatch(rest); m != nil {
			modes, count, watts, load, end = m[1]+m[3]+m[7], m[4]+m[6], m[5], m[2], len(m[0])
		} else {
			return nil, fmt.Errorf("%q is not a rating: a power with its load", text)
		}
		mode, err := modeOf(modes, count, channels)
		if err != nil {
			return nil, err
		}
		n := rating{mode: mode, load: load + " ohm"}.node(watts+" W", c, alone(channels))
		if volts != "" {
			put(n, "volts", scalar(volts+" V", c))
		}
		out = append(out, n)
		rest = " " + strings.TrimSpace(rest[end:])
		if m := following().FindString(rest); m != "" {
			rest = rest[len(m)-1:]
		}
	}
	return out, nil
}

// modeOf is how the channels are used; empty: each by itself.
func modeOf(modes, count string, channels int) (string, error) {
	n, _ := strconv.Atoi(count)
	switch {
	case strings.Contains(modes, "bridged"):
		return "bridged", nil
	case strings.Contains(modes, "stereo"):
		return "stereo", nil
	case strings.Contains(modes, "mono"): // of several channels the reader of parts says what that is
		return "mono", nil
	case n == 0 || n == channels:
		return "", nil
	case channels > 1 && 2*n == channels:
		return "bridged", nil
	case channels == 0:
		return "", errors.New("how many channels the amplifier has the row does not say")
	}
	return "", fmt.Errorf("%s times a power is not each of %d channels, nor each pair of them", count, channels)
}

// alone is the mode of a rating that names none: the one channel of an amplifier
// plays mono, several play stereo.
func alone(channels int) string {
	if channels == 1 {
		return "mono"
	}
	return "stereo"
}
