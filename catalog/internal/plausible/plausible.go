// Package plausible makes files out of bytes, for fuzz tests: files that a person
// could have written, with a slip here and there. A fuzzer that changes the text of a
// file hardly ever gets beyond its syntax; one that changes the choices by which a
// file was made meets what comes after: keys against keys, bounds, deals, stores.
//
//	g := plausible.New(data)
//	text := g.Parts() // parts, deals and stores, in YAML
//
// The keys and their examples come from the reference that the reader's own tables
// give (catalog.Reference), so a new key is tried without a word here. Equal bytes
// give equal files; when they are used up, every choice is the plainest.
package plausible

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// Seed gives a fuzz target the bytes of a dozen files, from the plainest on.
func Seed(f interface{ Add(...any) }) {
	for seed := range uint64(12) {
		f.Add(Random(seed, 40*int(seed)))
	}
}

// Random gives as many bytes, which a seed stands for.
func Random(seed uint64, many int) []byte {
	g := rand.New(rand.NewPCG(seed, 0x66696c65))
	data := make([]byte, many)
	for i := range data {
		data[i] = byte(g.UintN(256))
	}
	return data
}

// Grammar makes choices by bytes.
type Grammar struct {
	data     []byte
	sections map[string][]document.Spec
	parts    int  // how many there are to be named
	slips    bool // somebody was careless
}

// New makes a grammar of bytes.
func New(data []byte) *Grammar {
	g := &Grammar{data: data, sections: map[string][]document.Spec{}, parts: 4}
	for _, s := range catalog.Reference() {
		g.sections[s.Title] = s.Keys
	}
	g.slips = g.Pick(2) == 1
	return g
}

// Pick chooses one of n; the plainest is 0.
func (g *Grammar) Pick(n int) int {
	if len(g.data) == 0 || n < 2 {
		return 0
	}
	b := g.data[0]
	g.data = g.data[1:]
	return int(b) % n
}

// rarely is true once in n times.
func (g *Grammar) rarely(n int) bool { return g.Pick(n) == n-1 }

// slip is true once in n times of a careless file.
func (g *Grammar) slip(n int) bool { return g.slips && g.rarely(n) }

// stated says whether a key is there.
func (g *Grammar) stated(k document.Spec) bool {
	if k.Required {
		return !g.slip(40)
	}
	return g.rarely(3)
}

// One chooses a text.
func (g *Grammar) One(of ...string) string { return of[g.Pick(len(of))] }

// SKU names one of the parts, or rarely one that is not there.
func (g *Grammar) SKU() string {
	if g.slip(60) {
		return "nowhere"
	}
	return "P" + strconv.Itoa(g.Pick(g.parts))
}

// Parts is a file of parts, mostly with deals and stores.
func (g *Grammar) Parts() string {
	var b strings.Builder
	g.parts = 1 + g.Pick(5)
	b.WriteString("parts:\n")
	for i := range g.parts {
		kind := catalog.Kind(g.Pick(int(catalog.KindCount))).String()
		fmt.Fprintf(&b, "  - sku: P%d\n    kind: %s\n", i, kind)
		sold := g.Pick(4) > 0
		for _, k := range slices.Concat(g.sections["part"][2:], g.sections[kind]) {
			switch {
			case sold && (k.Key == "price" || k.Key == "store"):
				k.Required = true
			case !sold && !g.slips && slices.Contains([]string{"price", "stock", "limit", "offers"}, k.Key):
				continue
			}
			g.key(&b, "    ", k)
		}
	}
	if n := g.Pick(3); n > 0 {
		b.WriteString("deals:\n")
		for i := range n {
			fmt.Fprintf(&b, "  - {name: deal %d", i)
			g.deal(&b)
			b.WriteString("}\n")
		}
	}
	if n := g.Pick(3); n > 0 {
		b.WriteString("stores:\n")
		for _, name := range []string{"Pell Street", "Dock Street"}[:n] {
			b.WriteString("  - {name: " + name)
			g.flow(&b, g.sections["store"][1:])
			b.WriteString("}\n")
		}
	}
	return b.String()
}

// deal writes the keys of one of the forms, or of a careless one any.
func (g *Grammar) deal(b *strings.Builder) {
	form := strings.Fields(g.One("parts price", "sku from price", "sku every off"))
	for _, k := range g.sections["deal"][1:] {
		switch {
		case slices.Contains(form, k.Key):
			b.WriteString(", " + k.Key + ": " + g.Value(k))
		case slices.Contains([]string{"limit", "store", "note"}, k.Key) || g.slips:
			g.flow(b, []document.Spec{k})
		}
	}
}

// Brief is a brief.
func (g *Grammar) Brief() string { return g.Keys(g.sections["brief"]) }

// Vehicles is a file of one vehicle or a few.
func (g *Grammar) Vehicles() string {
	var b strings.Builder
	b.WriteString("vehicles:\n")
	for i := range 1 + g.Pick(2) {
		fmt.Fprintf(&b, "  - name: car %d\n    body: %s\n", i, g.One("small sedan", "sedan", "wagon", "SUV", "no such body"))
		for _, k := range g.sections["vehicle"][2:] {
			g.key(&b, "    ", k)
		}
	}
	return b.String()
}

// Keys is a file of the keys of a table, each in a line.
func (g *Grammar) Keys(keys []document.Spec) string {
	var b strings.Builder
	for _, k := range keys {
		g.key(&b, "", k)
	}
	return b.String()
}

// key writes a key or leaves it out, rarely twice or misspelt.
func (g *Grammar) key(b *strings.Builder, indent string, k document.Spec) {
	if !g.stated(k) {
		return
	}
	name := k.Key
	if g.slip(80) {
		name = name[1:] + name[:1]
	}
	for b.WriteString(indent + name + ": " + g.Value(k) + "\n"); g.slip(120); {
		b.WriteString(indent + name + ": " + g.Value(k) + "\n")
	}
}

// flow writes keys of a group in braces, behind others.
func (g *Grammar) flow(b *strings.Builder, keys []document.Spec) {
	for _, k := range keys {
		if g.stated(k) {
			b.WriteString(", " + k.Key + ": " + g.Value(k))
		}
	}
}

// Value is a value of a key: its example, with other digits, or rarely something
// else.
func (g *Grammar) Value(k document.Spec) string {
	if g.slip(50) {
		return g.One("", "~", "[]", "{}", "-1", "0", "1e9", "NaN", "true", "3/4", "1,5", "1,234", "\"x\\u0301\"", "'a: b'", "2 x 2 x 2", "| text", "&a 1", "*a", "1 furlong", strings.Repeat("9", 40))
	}
	if len(k.Sub) > 0 {
		var b strings.Builder
		g.flow(&b, k.Sub)
		group := "{" + strings.TrimPrefix(b.String(), ", ") + "}"
		if strings.HasPrefix(k.Expected(), "a list") {
			return "[" + group + "]"
		}
		return group
	}
	switch k.Key {
	case "owned", "must", "never", "parts":
		list := g.SKU()
		for range g.Pick(3) {
			list += g.One(", ", ", ", " x 2, ") + g.SKU()
		}
		return "[" + list + "]"
	case "sku", "driver":
		return g.SKU()
	}
	if len(k.Words) > 0 {
		return g.One(k.Words...)
	}
	example := "1"
	if _, such, ok := strings.Cut(k.Expected(), "such as "); ok {
		example = such
		if low, high, ok := strings.Cut(k.Range, ".."); ok && !strings.Contains(such, " x ") && (such == "12 in" && !strings.HasSuffix(high, " in") || low == "1" && strings.HasPrefix(k.Expected(), "a pure number")) {
			example = tenth(high) // the example is that of all such quantities
		}
	} else if low, high, ok := strings.Cut(k.Range, ".."); ok {
		example = g.One(high, strings.TrimPrefix(low, ">"))
	} else if strings.HasPrefix(k.Expected(), "true") {
		example = g.One("true", "false", "yes")
	}
	return g.digits(example)
}

// tenth is about a tenth of a quantity.
func tenth(s string) string {
	number, unit, _ := strings.Cut(s, " ")
	n, _ := strconv.ParseFloat(number, 64)
	return strings.TrimSpace(strconv.FormatFloat(n/10, 'g', 3, 64) + " " + unit)
}

// digits changes the numbers of an example: most stay in bounds, some are those at
// the edge, and the unit may be another of the trade.
func (g *Grammar) digits(s string) string {
	out := []byte(s)
	for i, c := range out {
		if unit := i > 0 && out[i-1] >= 'A'; c >= '1' && c <= '9' && !unit && g.Pick(4) == 3 {
			out[i] = byte('1' + g.Pick(9))
		}
	}
	s = string(out)
	if g.slip(40) {
		s = strings.NewReplacer(" cm", " in", " mm", " cm", " L", " ft3", " W", " kW", " ohm", " mohm", " USD", " EUR", " Hz", " kHz", " A", " mA", ".", ",").Replace(s)
	}
	if g.slip(60) {
		s = g.One("-", "0", "2 x ", "~ ", "\u00a0") + s
	}
	return s
}

// Table is a head, in which each column has one of its names, and rows of what cell
// gives for each.
func (g *Grammar) Table(columns [][]string, cell func(column int) string) (rows [][]string) {
	var order []int
	for i := range columns {
		if !g.rarely(5) || i == 0 {
			order = append(order, i)
		}
	}
	if n := len(order); n > 1 && g.Pick(2) == 1 {
		i := g.Pick(n)
		order[0], order[i] = order[i], order[0]
	}
	var head []string
	for _, i := range order {
		head = append(head, g.One(columns[i]...))
	}
	rows = append(rows, head)
	for range 1 + g.Pick(8) {
		var row []string
		for _, i := range order {
			row = append(row, cell(i))
		}
		rows = append(rows, row)
	}
	return rows
}
