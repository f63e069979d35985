package tables

import (
	"strconv"
	"strings"

	"loudfor/catalog/document"
	"loudfor/catalog/expression"
	"loudfor/catalog/trade"
	"loudfor/catalog/units"
)

// How the trade writes values: coils as "DVC4" or "2x4", sizes as 12" or 6x9, a
// power as "RMS 300 / max 600". Each is turned into the words of the files where
// it can be one thing only; all else goes on as it is. Common practice, no
// source.

// number is a number with a point or a comma.
const number = `\d+(?:[.,]\d+)?`

// watted is a power, whose thousands may be parted: nobody states thousandths of a
// watt, so that 1.200 W are twelve hundred in any language. A blank parts them
// behind one digit only: 300 600 are two figures.
const watted = `\d[ \x{a0}\x{202f}]\d{3}|` + number

// Words for one coil, and for two; for coils; for ohms.
const (
	ones   = `single|svc|s|einfach|einzel|simple|singola|singolo|sencilla|simples|enkele?|pojedyncz[ay]`
	twos   = `dual|double|dvc|d|doppelt?e?|doppelschwingspule|dobles?|doppi[ao]|dubbele?|dupl[ao]|podw[oó]jn[ay]`
	coiled = `(?:voice[\s-]*)?coils?|bobin[ae]s?|spoel(?:en)?|spulen?|schwingspulen?|cewk[ai]`
	ohmed  = `(?:ohm(?:s|ios?|[oó]w)?|Ω|ω)`
)

var (
	// coilsAlike are coils by how many there are: "dual 4", "DVC4", "D4", "SVC 2",
	// "double bobine 2 x 4", "doppia 4+4".
	coilsAlike = expression.Late(`(?i)^(?:` + coiled + `)?[\s:]*(` + ones + `|` + twos + `)(?:[\s-]*(?:` + coiled + `))?[\s,-]*(` + number + `)\s*` + ohmed + `?\s*(?:([x×*+])\s*(` + number + `)\s*)?` + ohmed + `?$`)
	// coilsBehind are those with the count behind: "4 ohm DVC", "2 ohm (dual)", "2 ohm x2".
	coilsBehind = expression.Late(`(?i)^(` + number + `)\s*` + ohmed + `[\s(,-]*(?:(` + ones + `|x\s*1)|(` + twos + `|x\s*2))(?:[\s-]*(?:` + coiled + `))?\s*\)?$`)
	single      = expression.Late(`(?i)^(?:` + ones + `)$`)
	// coilsCounted are those with a count: "2x4", "2 x 4", "1x4 ohm".
	coilsCounted = expression.Late(`(?i)^([1-8])\s*[x×*]\s*(` + number + `)\s*` + ohmed + `?$`)
	// coilsAdded are those that are named one by one: "4+4".
	coilsAdded = expression.Late(`(?i)^(` + number + `)\s*` + ohmed + `?\s*\+\s*(` + number + `)\s*` + ohmed + `?$`)
	// oval is the size of one without a unit: such sizes are in inches.
	oval = expression.Late(`^([4-9])\s*[x×*]\s*(\d{1,2})\s*("|″|”|''|in|inch|inches|zoll)?$`)
	// sized is a size with a word or a hyphen between number and unit.
	sized = expression.Late(`^(` + number + `)[\s-]*(\p{L}+|"|″|”|'')\.?$`)
	// continuous and most are the two figures that a power may have.
	continuous = expression.Late(`(?i)(?:(?:rms|cont(?:inuous)?|nominal|nom|nenn|sinus|eff(?:icace)?|continua?)[\s.:]*(` + watted + `)\s*(?:w(?:atts?)?\b)?|(` + watted + `)\s*(?:w(?:att)?s?)?\s*(?:rms|cont(?:inuous)?|nominal|nom|sinus|eff(?:icace)?|continua?)\b)`)
	most       = expression.Late(`(?i)\b(?:max(?:imum|imal|ima|i)?|peak|pmpo|spitze|pico|picco|crete|piek|szczyt)\b`)
)

// inTradeWords is the text of a cell as the files would have it. lost says why
// nothing is left of it.
func inTradeWords(text string, s document.Spec) (out, lost string) {
	switch {
	case s.Dim == units.Power && (s.Shape == document.Quantity || s.Shape == document.Named):
		return power(text)
	case s.Dim == units.Resistance && s.Shape == document.Times:
		return coils(text), ""
	case s.Shape == document.Oval || s.Dim == units.Length && s.Shape == document.Times:
		return size(text), ""
	}
	if s.Key == "xmax" {
		if m := oneWay().FindStringSubmatch(strings.TrimSpace(text)); m != nil {
			return m[1], ""
		}
	}
	return unitWord(text), ""
}

// oneWay is a travel that is said to be to one side.
var oneWay = expression.Late(`(?i)^(?:±|\+/?-)?\s*(` + number + `\s*mm)(?:[\s(-]*one[\s-]*way\)?)?$`)

// coils reads voice coils; a count stands before the load of each.
func coils(text string) string {
	t := strings.TrimSpace(text)
	if m := coilsCounted().FindStringSubmatch(t); m != nil {
		return m[1] + " x " + m[2] + " ohm"
	}
	if m := coilsAlike().FindStringSubmatch(t); m != nil {
		n, each := "2", m[2]
		if single().MatchString(m[1]) {
			n = "1"
		}
		switch {
		case m[3] == "+" && (n != "2" || m[2] != m[4]):
			return text
		case m[3] != "" && m[3] != "+": // "DVC 2x4"
			if m[2] != n {
				return text
			}
			each = m[4]
		}
		return n + " x " + each + " ohm"
	}
	if m := coilsBehind().FindStringSubmatch(t); m != nil {
		if m[2] != "" {
			return "1 x " + m[1] + " ohm"
		}
		return "2 x " + m[1] + " ohm"
	}
	if m := coilsAdded().FindStringSubmatch(t); m != nil && m[1] == m[2] {
		return "2 x " + m[1] + " ohm"
	}
	return unitWord(text)
}

// size reads the nominal size of a driver, or of holes for some.
func size(text string) string {
	t := strings.TrimSpace(text)
	if m := oval().FindStringSubmatch(strings.ToLower(t)); m != nil {
		// 2 x 12 is two holes of twelve inches only with its unit: as a size
		// without one it would be an oval that nobody makes.
		if a, _ := strconv.Atoi(m[1]); m[3] == "" || a > 3 {
			if b, _ := strconv.Atoi(m[2]); b > a && b <= 10 {
				return m[1] + " x " + m[2] + " in"
			}
		}
	}
	if m := sized().FindStringSubmatch(t); m != nil {
		return unitWord(m[1] + " " + m[2])
	}
	return unitWord(text)
}

// power reads the continuous power; what a part stands for a moment is none.
func power(text string) (out, lost string) {
	t := strings.TrimSpace(text)
	if at := continuous().FindStringIndex(t); at != nil && amid(t, at[0], len(strings.TrimSpace(t[:at[1]]))) {
		return text, ""
	}
	if m := continuous().FindStringSubmatch(t); m != nil {
		watts := ungrouped(m[1] + m[2])
		if strings.Contains(strings.ToLower(t), "kw") {
			return text, ""
		}
		if !strings.ContainsAny(t, "wW") {
			return watts, ""
		}
		return watts + " W", ""
	}
	if ofAMoment(t) {
		return "", "it is the power of a moment, not a continuous one"
	}
	if m := thousands().FindStringSubmatch(t); m != nil && !strings.Contains(strings.ToLower(m[2]), "k") {
		return strings.TrimSpace(ungrouped(m[1]) + " " + m[2]), ""
	}
	return unitWord(text), ""
}

// ofAMoment tells whether a text names the most that a part stands.
func ofAMoment(text string) bool { return most().MatchString(trade.Fold(text)) }

// amid tells whether a figure, from one byte to another, is part of more: one of a
// range, of several beside a sign, of sides, or the end of a number.
func amid(text string, from, to int) bool {
	if text[from] > '9' { // a word stands before it: "max 600 / RMS 300"
		return behind().MatchString(text[to-1:])
	}
	return joined().MatchString(text[:from]) || behind().MatchString(text[to-1:]) ||
		hundreds().MatchString(text[from:to]) && thousand().MatchString(text[:from])
}

var (
	joined   = expression.Late(`(?i)\d\s*(?:(?:[cm]?m|in|w|"|″)\s*)?[x×*–-]\s*$|\d\s*[/+]\s*$`)
	behind   = expression.Late(`(?i)^(?:.\s*[x×*]\s*\d|\d\s*[–-]\s*\d|.[–-]\d)`)
	hundreds = expression.Late(`^\d{3}(?:\D|$)`)
	thousand = expression.Late(`(?:^|[^\d.,])\d{1,3}[ \x{a0}\x{202f}]$`)
)

// thousands is a power whose thousands are parted.
var thousands = expression.Late(`^([1-9]\d{0,2}[.,]\d{3}|\d[ \x{a0}\x{202f}]\d{3})\s*(\pL*)\.?$`)

// ungrouped takes the thousands of a power together.
func ungrouped(watts string) string {
	if thousands().MatchString(watts) {
		return strings.NewReplacer(".", "", ",", "", " ", "", "\u00a0", "", "\u202f", "").Replace(watts)
	}
	return watts
}

// valued is a number with a unit in words behind it.
var valued = expression.Late(`^([-+]?\d[\d.,\x{a0}\x{202f} ]*)\s*(\pL[\pL.]*)$`)

// unitWord turns the word of a unit in another language into the one that is
// known: "12 Zoll", "4 ohmios".
func unitWord(text string) string {
	m := valued().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return text
	}
	if unit, ok := trade.Unit(m[2]); ok {
		return strings.TrimSpace(m[1]) + " " + unit
	}
	return text
}

// unitsOf says in which unit the bare numbers of a column are, by the cells that
// state one; empty where none does, or two differ.
func unitsOf(cells []string) string {
	unit := ""
	for _, text := range cells {
		if watts, lost := power(text); lost == "" {
			text = watts
		}
		m := stated().FindStringSubmatch(strings.TrimSpace(unitWord(text)))
		if m == nil {
			continue
		}
		if unit != "" && unit != m[1] {
			return ""
		}
		unit = m[1]
	}
	return unit
}

// stated is a number with its unit.
var stated = expression.Late(`^[-+]?\d[\d.,\x{a0}\x{202f} ]*\s*([\pL"″”%/²³0-9]*\pL[\pL/²³0-9]*|["″”])$`)
