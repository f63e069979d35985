package facts

import "strings"

// Grouped joins remarks that follow each other about the same part from the
// same source: "A: x assumed (s)" and "A: y assumed (s)" become "A: x assumed;
// y assumed (s)". Not a word of what is said is lost, only its repetition.
func Grouped(remarks []string) []string {
	var out []string
	var last remark
	for _, text := range remarks {
		r := split(text)
		if len(out) > 0 && r.about != "" && r.about == last.about && r.source == last.source {
			last.what += "; " + r.what
			out[len(out)-1] = last.text()
			continue
		}
		out, last = append(out, text), r
	}
	return out
}

// remark is "about: what (source)".
type remark struct{ about, what, source string }

func (r remark) text() string {
	text := r.about + ": " + r.what
	if r.source != "" {
		text += " (" + r.source + ")"
	}
	return text
}

// split takes a remark apart; one of another shape has no about.
func split(text string) remark {
	about, rest, ok := strings.Cut(text, ": ")
	if !ok {
		return remark{what: text}
	}
	if open := strings.Index(rest, " ("); open >= 0 && strings.HasSuffix(rest, ")") {
		return remark{about, rest[:open], rest[open+2 : len(rest)-1]}
	}
	return remark{about: about, what: rest}
}
