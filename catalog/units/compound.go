package units

import (
	"fmt"
	"strconv"
	"strings"
)

// The compound values of the trade: a count of like things ("2 x 4 ohm"),
// sizes of boxes and points in a car ("38 x 36 x 33 cm"), wire gauges.

// largestCount bounds what can be counted in one part.
const largestCount = 999

// Times reads a count and a quantity, such as "2 x 30 A" or "dual 4 ohm"; a
// quantity alone counts once.
func Times(text string, d Dimension) (count int, q Quantity, err *Error) {
	from, to := trimmed(text)
	if cut, width := cross(text, from, to); cut >= 0 {
		count, ok := whole(text[from:cut])
		if !ok || count < 1 || count > largestCount {
			return 0, Quantity{}, &Error{Summary: "\"" + Clip(strings.TrimSpace(text[from:cut])) + "\" is not a count",
				Remedy: "write a whole number before the x, as in 2 x " + d.Example(), Start: from, End: max(cut, from+1)}
		}
		q, err := Parse(text[cut+width:to], d)
		if err != nil {
			err.Start, err.End = err.Start+cut+width, err.End+cut+width
		}
		return count, q, err
	}
	for _, w := range [...]struct {
		word  string
		count int
	}{{"single ", 1}, {"dual ", 2}, {"double ", 2}, {"svc ", 1}, {"dvc ", 2}} {
		if n := len(w.word); to-from > n && strings.EqualFold(text[from:from+n], w.word) {
			q, err := Parse(text[from+n:to], d)
			if err != nil {
				err.Start, err.End = err.Start+from+n, err.End+from+n
			}
			return w.count, q, err
		}
	}
	q, err = Parse(text, d)
	return 1, q, err
}

// ExampleLengths are well-written values by the number of lengths.
var ExampleLengths = [...]string{2: "100 x 103 cm", 3: "38 x 36 x 33 cm"}

// Lengths reads two or three lengths, such as "38 x 36 x 33 cm"; a length
// without a unit takes that of the next one that has it. Coordinates may be
// written with spaces only: "245 40 100 cm". Zero and negative values are the
// caller's affair.
func Lengths(text string, want int) (out [3]Quantity, err *Error) {
	from, to := trimmed(text)
	if spaced, ok := crossed(text[from:to], want); ok {
		n, err := split(spaced, 0, len(spaced), out[:want])
		if err != nil {
			err.Start, err.End = from, to
			return out, err
		}
		if n == want {
			return out, nil
		}
	}
	n, err := split(text, from, to, out[:want])
	if err == nil && n != want {
		err = &Error{Summary: fmt.Sprintf("%q has %d of %d lengths", Clip(text[from:to]), n, want), Remedy: fmt.Sprintf("write %d lengths, such as %s", want, ExampleLengths[want]), Start: from, End: to}
	}
	return out, err
}

// crossed turns coordinates written with spaces only into the form with
// crosses.
func crossed(s string, want int) (string, bool) {
	f := strings.Fields(s)
	if cut, _ := cross(s, 0, len(s)); cut >= 0 || len(f) != want+1 {
		return "", false
	}
	return strings.Join(f[:want], " x ") + " " + f[want], true
}

// Oval reads a length, or the two of an oval such as "6 x 9 in"; the result
// for an oval is the diameter of the circle with the same area.
func Oval(text string) (Quantity, *Error) {
	var out [2]Quantity
	from, to := trimmed(text)
	n, err := split(text, from, to, out[:])
	if err != nil || n < 2 {
		return out[0], err
	}
	a, b := out[0].SI, out[1].SI
	if a <= 0 || b <= 0 {
		return out[0], &Error{Summary: "\"" + Clip(text[from:to]) + "\" is not the size of an oval", Remedy: "write it such as 6 x 9 in", Start: from, End: to}
	}
	return Quantity{SI: sqrt(a * b), Text: text[from:to], Unit: out[1].Unit}, nil
}

// split reads up to len(out) lengths with crosses between them.
func split(text string, from, to int, out []Quantity) (int, *Error) {
	var start [4]int
	n, i := 0, from
	for ; n < len(out); n++ {
		start[n] = i
		cut, width := cross(text, i, to)
		if cut < 0 {
			n++
			break
		}
		start[n+1] = cut + width
		i = cut + width
	}
	if n == len(out) {
		if cut, _ := cross(text, start[n-1], to); cut >= 0 {
			return 0, &Error{Summary: "\"" + Clip(text[from:to]) + "\" has more than " + strconv.Itoa(len(out)) + " lengths", Remedy: "write " + strconv.Itoa(len(out)) + " of them", Start: cut, End: to}
		}
	}
	unit := ""
	for k := n - 1; k >= 0; k-- {
		end := to
		if k < n-1 {
			end, _ = cross(text, start[k], to)
		}
		piece := text[start[k]:end]
		if a, b := trimmed(piece); unit != "" {
			if _, stop, e := scan(piece, a, b); e == nil && stop == b {
				num, _, _ := scan(piece, a, b)
				if u := lookup(unit, Length); u != nil {
					q, e := finite(Quantity{SI: u.toSI(num), Text: piece[a:b], Unit: unit}, start[k]+a, start[k]+b)
					if e != nil {
						return 0, e
					}
					out[k] = q
					continue
				}
			}
		}
		q, err := Parse(piece, Length)
		if err != nil {
			err.Start, err.End = err.Start+start[k], err.End+start[k]
			return 0, err
		}
		out[k], unit = q, q.Unit
	}
	return n, nil
}

// cross finds the first multiplication sign.
func cross(text string, from, to int) (at, width int) {
	for i := from; i < to; i++ {
		switch text[i] {
		case 'x', 'X', '*':
			return i, 1
		case 0xc3: // ×
			if i+1 < to && text[i+1] == 0x97 {
				return i, 2
			}
		}
	}
	return -1, 0
}

// Whole reads a whole number without a unit.
func Whole(text string) (int, *Error) {
	from, to := trimmed(text)
	n, ok := whole(text)
	if !ok {
		return 0, &Error{Summary: "\"" + Clip(text[from:to]) + "\" is not a whole number", Remedy: "write a whole number without a unit, such as 2", Start: from, End: to}
	}
	return n, nil
}

func whole(text string) (int, bool) {
	t := strings.TrimSpace(text)
	if len(t) == 0 || len(t) > 9 {
		return 0, false
	}
	n, err := strconv.Atoi(t)
	return n, err == nil
}

// Wire is the size of a cable: an American wire gauge or an area.
type Wire struct {
	// Gauge is the American wire gauge: 4 is 4 AWG, 0 is 1/0, -1 is 2/0, -3
	// is 4/0. It means nothing when Area is set.
	Gauge int
	Area  float64 // m2; 0: given as a gauge
}

// The gauges that exist (ASTM B258): 4/0 to 40.
const (
	thickestGauge = -3
	thinnestGauge = 40
)

// ParseWire reads "4 AWG", "AWG 4", "1/0 AWG", "0 gauge", "4 ga" or "25 mm2".
func ParseWire(text string) (Wire, *Error) {
	from, to := trimmed(text)
	s := strings.ToLower(text[from:to])
	bare := s
	marked := false
	for _, mark := range [...]string{"awg", "gauge", "ga", "ga."} {
		if t, ok := strings.CutSuffix(s, mark); ok {
			bare, marked = t, true
		} else if t, ok := strings.CutPrefix(s, mark); ok {
			bare, marked = t, true
		}
	}
	bare = strings.Trim(bare, " -#")
	refuse := func(summary string) (Wire, *Error) {
		return Wire{}, &Error{Summary: summary, Remedy: "write a gauge from 4/0 AWG to 40 AWG or an area, such as 4 AWG or 25 mm2", Start: from, End: to}
	}
	if !marked {
		if strings.Trim(s, "0123456789/ ") == "" {
			return refuse("\"" + Clip(text[from:to]) + "\" has no unit")
		}
		q, err := Parse(text, Area)
		if err != nil {
			return refuse("\"" + Clip(text[from:to]) + "\" is neither a wire gauge nor an area")
		}
		return Wire{Area: q.SI}, nil
	}
	gauge, ok := 0, false
	switch {
	case bare != "" && strings.Trim(bare, "0") == "": // 0, 00, 000, 0000
		gauge, ok = 1-len(bare), true
	case strings.HasSuffix(bare, "/0"):
		if n, isNumber := whole(bare[:len(bare)-2]); isNumber && n >= 1 {
			gauge, ok = 1-n, true
		}
	default:
		if n, isNumber := whole(bare); isNumber && n >= 1 {
			gauge, ok = n, true
		}
	}
	if !ok || gauge < thickestGauge || gauge > thinnestGauge {
		return refuse("\"" + Clip(text[from:to]) + "\" is not a wire gauge")
	}
	return Wire{Gauge: gauge}, nil
}
