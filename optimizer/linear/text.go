package linear

import (
	"fmt"
	"strconv"
	"strings"
)

// Two open text formats say the same in different grammar. Sections is the one
// with the headings Maximize, Subject To, Bounds, Generals, Binaries, which
// glpsol (--lp), cbc and most others read. Statements is lp_solve's own, with a
// semicolon after each statement. Both keep lines short, hold the legend in
// comments, and are the same byte for byte for the same program.

// Dialect is one of the formats.
type Dialect int

const (
	Sections Dialect = iota
	Statements
)

// lineLength is where lines are broken: readers of the older format stop at
// 255 characters, and people earlier.
const lineLength = 78

// Text is the program in a dialect.
func (p *Program) Text(d Dialect) string {
	w := &writer{p: p, d: d}
	for _, line := range p.Title {
		w.comment(line)
	}
	w.legend()
	w.objective()
	if d == Sections {
		w.line("Subject To")
	}
	for _, r := range p.Rows {
		w.row(&r)
	}
	w.bounds()
	w.kinds()
	if d == Sections {
		w.line("End")
	}
	return w.text.String()
}

type writer struct {
	p    *Program
	d    Dialect
	text strings.Builder
}

func (w *writer) line(s string) {
	w.text.WriteString(s)
	w.text.WriteByte('\n')
}

// comment writes a line that solvers skip. What is not plain ASCII is escaped:
// the readers were not made for it, and a name must not end the comment.
func (w *writer) comment(s string) {
	mark := `\ `
	if w.d == Statements {
		mark = "// "
	}
	quoted := strconv.QuoteToASCII(s)
	s = strings.ReplaceAll(quoted[1:len(quoted)-1], `\"`, `"`)
	w.line(strings.TrimRight(mark+s, " "))
}

func (w *writer) legend() {
	for _, v := range w.p.Variables {
		if v.Note != "" {
			w.comment(fmt.Sprintf("%-*s %s", NameLength, v.Name, v.Note))
		}
	}
}

func (w *writer) objective() {
	goal := map[bool]string{true: "Maximize", false: "Minimize"}[w.p.Maximise]
	if w.d == Statements {
		w.sum(map[bool]string{true: "max:", false: "min:"}[w.p.Maximise], w.p.Objective, "")
		return
	}
	w.line(goal)
	w.sum(" goal:", w.p.Objective, "")
}

// row writes one condition. Its name keeps lp_solve from taking a row of one
// variable for a bound.
func (w *writer) row(r *Row) {
	if r.Note != "" {
		w.comment(r.Note)
	}
	w.sum(" "+r.Name+":", r.Terms, fmt.Sprintf("%s %d", r.Relation, r.Limit))
}

// sum writes the terms with what stands before and behind, broken into lines.
func (w *writer) sum(before string, terms []Term, after string) {
	var words []string
	for _, t := range terms {
		sign, name := "+", w.p.Variables[t.Variable].Name
		if t.Factor < 0 {
			sign = "-"
		}
		if n := magnitude(t.Factor); n != 1 {
			name = fmt.Sprintf("%d %s", n, name)
		}
		words = append(words, sign+" "+name)
	}
	if len(terms) == 0 && len(w.p.Variables) > 0 {
		words = append(words, "0 "+w.p.Variables[0].Name) // both grammars want a term
	}
	if after != "" {
		words = append(words, after)
	}
	if w.d == Statements {
		if len(words) == 0 {
			words = []string{""}
		}
		words[len(words)-1] += ";"
	}
	w.wrap(before, words)
}

func (w *writer) wrap(before string, words []string) {
	line := before
	for _, word := range words {
		if len(line)+1+len(word) > lineLength {
			w.line(line)
			line = "   "
		}
		line += " " + word
	}
	w.line(line)
}

// bounds gives the upper bounds of everything but choices.
func (w *writer) bounds() {
	if w.d == Sections {
		w.line("Bounds")
	}
	for _, v := range w.p.Variables {
		if v.Kind == Choice {
			continue
		}
		if w.d == Statements {
			w.line(fmt.Sprintf(" %s <= %d;", v.Name, v.Most))
			continue
		}
		w.line(fmt.Sprintf(" 0 <= %s <= %d", v.Name, v.Most))
	}
}

func (w *writer) kinds() {
	for _, k := range []struct {
		kind  Kind
		words [2]string
	}{{Whole, [2]string{"Generals", "int"}}, {Choice, [2]string{"Binaries", "bin"}}} {
		var names []string
		for _, v := range w.p.Variables {
			if v.Kind == k.kind {
				names = append(names, v.Name)
			}
		}
		if len(names) == 0 {
			continue
		}
		if w.d == Sections {
			w.line(k.words[0])
			w.wrap("", names)
			continue
		}
		for i := range names[:len(names)-1] {
			names[i] += ","
		}
		names[len(names)-1] += ";"
		w.wrap(k.words[1], names)
	}
}
