package units

import (
	"regexp"
	"strings"
)

// What a value looks like as a regular expression, for editors that check a
// file while it is typed. The expressions keep to what ECMA-262 and RE2 share,
// since a JSON Schema is read by either. They accept all that is read here and
// a little more: whether "1,234" is a number or a riddle is for the reader to
// say, and so are ranges.

// numberPattern is a number as people write it, groups and fractions included.
const numberPattern = "[-+\u2212]?[0-9.,½¼¾⅛⅜⅝⅞][0-9.,' \u00a0\u2009\u202f½¼¾⅛⅜⅝⅞/-]*(?:[eE][-+]?[0-9]+)?[ ]*"

// crossPattern stands between the lengths of a size.
const crossPattern = "[ ]*[xX*×][ ]*"

// Pattern is a quantity with its unit, or a number where there is none; it has
// no anchors.
func (d Dimension) Pattern() string {
	if d.bare() {
		return numberPattern
	}
	return numberPattern + d.unitPattern()
}

// NamedPattern is the same where a number alone will do.
func (d Dimension) NamedPattern() string {
	if d.bare() {
		return numberPattern
	}
	return numberPattern + d.unitPattern() + "?"
}

// TimesPattern is a quantity, or a count and one.
func (d Dimension) TimesPattern() string {
	return "(?:[0-9]+" + crossPattern + "|(?:" + anyCase("single") + "|" + anyCase("dual") + "|" + anyCase("double") + "|" +
		anyCase("svc") + "|" + anyCase("dvc") + ") +)?" + d.Pattern()
}

// LengthsPattern is n lengths with crosses between them, of which the earlier
// may take the unit of a later one; or coordinates with spaces only.
func LengthsPattern(n int) string {
	one, last := Length.NamedPattern(), Length.Pattern()
	return strings.Repeat(one+crossPattern, n-1) + last + "|" + strings.Repeat("[^ xX*×]+?[ \u00a0\u2009\u202f]+", n) + "[^ xX*×]+"
}

// OvalPattern is a length, or the two of an oval.
func OvalPattern() string {
	return "(?:" + Length.NamedPattern() + crossPattern + ")?" + Length.Pattern()
}

// PricePattern is a sum with the code of its currency before or after it.
func PricePattern() string {
	const code = "[A-Za-z]{3}"
	return numberPattern + code + "|" + code + "[ ]*" + numberPattern
}

// WholePattern is a whole number in quotes.
func WholePattern() string { return "[-+]?[0-9]{1,9}" }

// WirePattern is a gauge or an area.
func WirePattern() string {
	mark := "(?:" + anyCase("awg") + "|" + anyCase("gauge") + "|" + anyCase("ga") + "\\.?)"
	number := "[-# ]*[0-9]+(?:/0)?[-# ]*"
	return number + mark + "|" + mark + number + "|" + Area.Pattern()
}

// unitPattern is any accepted spelling of a unit of the dimension, with the
// differences that lookup overlooks.
func (d Dimension) unitPattern() string {
	var names []string
	for i := range table {
		if u := &table[i]; u.d == d && u.refuse == "" {
			for name := range strings.SplitSeq(u.names, "|") {
				names = append(names, spellingPattern(name))
			}
		}
	}
	return "(?:" + strings.Join(names, "|") + ")"
}

// loose are the characters that lookup leaves out.
const loose = "[ \u00a0.^]*"

func spellingPattern(name string) string {
	ignoreCase := len(name) > 3 && strings.ToLower(name) == name
	var b strings.Builder
	for rest := name; rest != ""; {
		if b.Len() > 0 {
			b.WriteString(loose)
		}
		if after, ok := strings.CutPrefix(rest, "ohm"); ok {
			b.WriteString("(?:Ω|\u2126|")
			b.WriteString(letters("ohm", ignoreCase))
			b.WriteByte(')')
			rest = after
			continue
		}
		r := []rune(rest)[0]
		rest = rest[len(string(r)):]
		switch r {
		case 'u':
			b.WriteString("[" + both('u', ignoreCase) + "\u00b5\u03bc]")
		case '2':
			b.WriteString("[2²]")
		case '3':
			b.WriteString("[3³]")
		case '·', '⋅':
			b.WriteString("[·⋅]")
		default:
			b.WriteString(letters(string(r), ignoreCase))
		}
	}
	b.WriteString(loose)
	return b.String()
}

func letters(text string, ignoreCase bool) string {
	out := make([]string, 0, len(text))
	for _, r := range text {
		if ignoreCase {
			out = append(out, anyCase(string(r)))
		} else {
			out = append(out, regexp.QuoteMeta(string(r)))
		}
	}
	return strings.Join(out, loose)
}

// WordPattern is one of the words of a list, whatever the case and whether it
// is written with spaces, hyphens or underscores.
func WordPattern(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = anyCase(w)
	}
	return strings.Join(out, "|")
}

// anyCase is a text in either case, written with spaces, hyphens or
// underscores.
func anyCase(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == ' ' || r == '-' || r == '_':
			b.WriteString("[-_ ]")
		case r < 0x80 && isLetter(byte(r)):
			b.WriteString("[" + both(r, true) + "]")
		default:
			b.WriteString(regexp.QuoteMeta(string(r)))
		}
	}
	return b.String()
}

func both(r rune, ignoreCase bool) string {
	if !ignoreCase {
		return string(r)
	}
	return strings.ToLower(string(r)) + strings.ToUpper(string(r))
}
