package units

import (
	"strconv"
	"strings"
)

// Numbers as people write them. What can be read in one way only is read; what
// can be read in two is refused with both readings named.
//
//	0.85  .85  0,85  12  -3  +3  5e-4  6 1/2  6-1/2  6½
//	1 234.5  1,234.5  1.234,5  1,234,567      grouped, one reading
//	1,234                                     1.234 or 1234: refused

// longestNumber is how many bytes of digits and separators a number may have.
const longestNumber = 40

// largestExponent is the largest power of ten that may be written with e.
const largestExponent = 15

// scan reads the number at the start of text[from:to] and gives where it ends.
func scan(text string, from, to int) (value float64, end int, err *Error) {
	i := from
	for i < to && i-from <= longestNumber && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	whole := i
	if i < to && text[i] == '.' {
		i++
		for i < to && i-from <= longestNumber && text[i] >= '0' && text[i] <= '9' {
			i++
		}
	}
	// The usual case, decided without copying: digits with at most one point,
	// followed by something that cannot continue a number.
	if whole > from && i-from <= longestNumber && (i == to || plainEnd(text, i, to)) {
		v, e := strconv.ParseFloat(text[from:i], 64)
		if e == nil {
			return v, i, nil
		}
	}
	return scanSlow(text, from, to)
}

// plainEnd tells whether the number that ends at i surely ends there.
func plainEnd(text string, i, to int) bool {
	c := text[i]
	if c == ' ' {
		if i+1 >= to {
			return true
		}
		c = text[i+1]
		return isLetter(c) && c != 'e' && c != 'E' || c == '%'
	}
	return isLetter(c) && c != 'e' && c != 'E' && c != 'x' && c != 'X' || c == '%' || c == '"'
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
func isDigit(c byte) bool  { return c >= '0' && c <= '9' }

// fractions that have a character of their own.
var vulgar = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875}

// scanSlow reads signs, groups, decimal commas, exponents and fractions.
func scanSlow(text string, from, to int) (float64, int, *Error) {
	i, sign := from, 1.0
	switch rest := text[from:to]; {
	case rest == "":
		return 0, from, &Error{Summary: "the value is empty", Remedy: "write a number", Start: from, End: to}
	case rest[0] == '+':
		i++
	case rest[0] == '-':
		i, sign = i+1, -1
	case strings.HasPrefix(rest, "−"):
		i, sign = i+len("−"), -1
	}
	for r, v := range vulgar { // a fraction alone, such as ½ in
		if strings.HasPrefix(text[i:to], string(r)) {
			return sign * v, i + len(string(r)), nil
		}
	}
	start := i
	for i < to && (isDigit(text[i]) || isSeparator(text, i, to)) {
		i += separatorWidth(text[i:])
	}
	body := text[start:i]
	if !strings.ContainsAny(body, "0123456789") {
		return 0, from, notNumber(text, from, to)
	}
	if len(body) > longestNumber {
		return 0, from, &Error{Summary: "a number of " + strconv.Itoa(len(body)) + " characters", Remedy: "write fewer digits", Start: start, End: i}
	}
	digits, err := ungroup(body, start)
	if err != nil {
		return 0, from, err
	}
	mantissa := i
	if i < to && (text[i] == 'e' || text[i] == 'E') {
		j := i + 1
		if j < to && (text[j] == '+' || text[j] == '-') {
			j++
		}
		k := j
		for k < to && isDigit(text[k]) {
			k++
		}
		if k > j {
			n, e := strconv.Atoi(text[j:k])
			if e != nil || n > largestExponent {
				return 0, from, &Error{Summary: "\"" + Clip(text[from:k]) + "\" is out of all proportion", Remedy: "write a plausible number", Start: from, End: k}
			}
			digits += text[i:k]
			i = k
		}
	}
	v, e := strconv.ParseFloat(digits, 64)
	if e != nil {
		return 0, from, notNumber(text, from, to)
	}
	if i == mantissa && !strings.ContainsAny(body, ".,") {
		if f, end := fraction(text, v, i, to); end > i {
			return sign * f, end, nil
		}
	}
	return sign * v, i, nil
}

// isSeparator tells whether a point, comma or group space stands at i between
// digits, or a point or comma before a digit.
func isSeparator(text string, i, to int) bool {
	w := separatorWidth(text[i:])
	next := i + w
	if next >= to || !isDigit(text[next]) {
		return false
	}
	switch {
	case text[i] == '.' || text[i] == ',':
		return true
	case text[i] == '\'' || text[i] == '_':
		return i > 0 && isDigit(text[i-1])
	case text[i] == ' ' || w > 1:
		// A space groups only before exactly three digits that are not the
		// start of a fraction (6 1/2).
		if i == 0 || !isDigit(text[i-1]) || next+3 > to {
			return false
		}
		for k := next; k < next+3; k++ {
			if !isDigit(text[k]) {
				return false
			}
		}
		return next+3 == to || !isDigit(text[next+3]) && text[next+3] != '/'
	}
	return false
}

// separatorWidth is the length of the digit or separator at the start.
func separatorWidth(s string) int {
	for _, space := range [...]string{"\u00a0", "\u2009", "\u202f"} {
		if strings.HasPrefix(s, space) {
			return len(space)
		}
	}
	return 1
}

// ungroup turns digits with separators into digits with at most one point.
func ungroup(body string, at int) (string, *Error) {
	if strings.ContainsAny(body, "'_") {
		return "", &Error{Summary: "\"" + body + "\" groups its digits in a way that is not read here", Remedy: "write the digits without separators", Start: at, End: at + len(body)}
	}
	s := body
	for _, space := range [...]string{" ", "\u00a0", "\u2009", "\u202f"} {
		s = strings.ReplaceAll(s, space, " ")
	}
	spaces, points, commas := strings.Count(s, " "), strings.Count(s, "."), strings.Count(s, ",")
	bad := func() (string, *Error) {
		return "", &Error{Summary: "\"" + body + "\" is not a number with groups of three digits", Remedy: "write the digits without separators and with a decimal point", Start: at, End: at + len(body)}
	}
	decimal := byte('.')
	group := byte(0)
	switch {
	case spaces > 0 && points+commas > 1:
		return bad()
	case spaces > 0:
		group = ' '
		if commas == 1 {
			decimal = ','
		}
	case points > 0 && commas > 0: // the last one is the decimal sign
		decimal, group = '.', ','
		if strings.LastIndexByte(s, ',') > strings.LastIndexByte(s, '.') {
			decimal, group = ',', '.'
		}
	case points > 1:
		decimal, group = ',', '.'
	case commas > 1:
		decimal, group = '.', ','
	case commas == 1:
		if k := strings.IndexByte(s, ','); len(s)-k == 4 && k >= 1 && k <= 3 && s[0] != '0' {
			return "", &Error{
				Summary: "\"" + body + "\" can mean " + s[:k] + "." + s[k+1:] + " or " + s[:k] + s[k+1:],
				Remedy:  "write " + s[:k] + "." + s[k+1:] + " or " + s[:k] + s[k+1:],
				Start:   at, End: at + len(body),
			}
		}
		decimal = ','
	}
	whole, frac, _ := strings.Cut(s, string(decimal))
	if strings.IndexByte(frac, decimal) >= 0 || group != 0 && strings.IndexByte(frac, group) >= 0 {
		return bad()
	}
	if group != 0 {
		groups := strings.Split(whole, string(group))
		for n, g := range groups {
			if len(g) != 3 && (n > 0 || len(g) == 0 || len(g) > 3) {
				return bad()
			}
		}
		whole = strings.Join(groups, "")
	}
	if len(frac) == 0 {
		return whole, nil
	}
	return whole + "." + frac, nil
}

// fraction reads what may follow a whole number: "6 1/2", "6-1/2", "6½",
// "1/2". It gives the end unchanged when there is none.
func fraction(text string, whole float64, i, to int) (float64, int) {
	for r, v := range vulgar {
		for _, lead := range [...]string{"", " "} {
			if s := lead + string(r); strings.HasPrefix(text[i:to], s) {
				return whole + v, i + len(s)
			}
		}
	}
	if i < to && text[i] == '/' {
		if d, end := smallWhole(text, i+1, to); d > 0 {
			return whole / float64(d), end
		}
		return whole, i
	}
	if i < to && (text[i] == ' ' || text[i] == '-') {
		n, mid := smallWhole(text, i+1, to)
		if mid < to && text[mid] == '/' && n > 0 {
			if d, end := smallWhole(text, mid+1, to); d > n {
				return whole + float64(n)/float64(d), end
			}
		}
	}
	return whole, i
}

// smallWhole reads up to three digits.
func smallWhole(text string, i, to int) (n, end int) {
	end = i
	for end < to && end < i+3 && isDigit(text[end]) {
		n = n*10 + int(text[end]-'0')
		end++
	}
	return n, end
}

func notNumber(text string, from, to int) *Error {
	return &Error{Summary: "\"" + Clip(text[from:to]) + "\" does not start with a number", Remedy: "write a number", Start: from, End: to}
}

// Clip shortens text for messages.
func Clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}
