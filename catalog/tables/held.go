package tables

import (
	"errors"
	"fmt"

	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/report"
)

// Not every text of a catalogue can stand in a cell: a shop whose name holds a
// semicolon, in a list; a control character, in a workbook. Import would read
// something else, so each cell is held against what import makes of it, before
// the first byte is written.

// held says why a value would not come back from its cell.
func held(k catalog.Kind, key string, v *yaml.Node, text string, fits func(string) error) error {
	c := grid.Cell{Text: text}
	if err := fits(text); err != nil {
		return err
	}
	if blank(c, specOf(k, key)) {
		return fmt.Errorf("%q in a cell stands for nothing", text)
	}
	if v.Kind != yaml.SequenceNode {
		return nil
	}
	back := texts(value{text: text, cell: c}).Content
	if l, ok := listOf(specOf(k, key)); ok {
		var err error
		if back, err = l.read(text, c, func(price string) string { return price }); err != nil {
			back = nil
		}
	}
	if len(back) == len(v.Content) {
		same := true
		for i := range back {
			same = same && equal(v.Content[i], back[i])
		}
		if same {
			return nil
		}
	}
	if word := holding(v, between); word != "" {
		return fmt.Errorf("%q holds %q, which parts the items of a cell", word, between)
	}
	return fmt.Errorf("%q cannot be read back from a cell", text)
}

// equal tells whether two values are the same, text for text.
func equal(a, b *yaml.Node) bool {
	if a.Kind != b.Kind || len(a.Content) != len(b.Content) {
		return false
	}
	if a.Kind != yaml.MappingNode {
		return a.Value == b.Value
	}
	for i := 0; i+1 < len(a.Content); i += 2 {
		if at := keyAt(b, a.Content[i].Value); at < 0 || !equal(a.Content[i+1], b.Content[at+1]) {
			return false
		}
	}
	return true
}

// holding finds the first text inside a value that holds some characters.
func holding(n *yaml.Node, characters string) string {
	if n.Kind == yaml.ScalarNode && strings.Contains(n.Value, characters) {
		return n.Value
	}
	for _, c := range n.Content {
		if word := holding(c, characters); word != "" {
			return word
		}
	}
	return ""
}

// inCSV says why a CSV file cannot hold a text: its reader refuses what acts.
func inCSV(text string) error {
	if _, _, summary, _ := report.Hidden(text); summary != "" {
		return fmt.Errorf("%q: %s", text, summary)
	}
	return nil
}

// escaped is how workbooks write characters that XML has not (ECMA-376 Part 1,
// 22.9.2.19 ST_Xstring); a text that looks like it is read as the character.
var escaped = expression.Late(`_x[0-9A-Fa-f]{4}_`)

// inWorkbook says why a workbook cannot hold a text: two characters more are none
// of XML 1.0.
func inWorkbook(text string) error {
	if err := inCSV(text); err != nil {
		return err
	}
	if i := strings.IndexAny(text, "\ufffe\uffff"); i >= 0 {
		return fmt.Errorf("%q holds %q, which a workbook does not keep", text, []rune(text[i:])[0])
	}
	if word := escaped().FindString(text); word != "" {
		return fmt.Errorf("%q holds %q, which a workbook takes for a character", text, word)
	}
	if len(text) > excelize.TotalCellChars && len(utf16.Encode([]rune(text))) > excelize.TotalCellChars {
		return errors.New("the cells of a workbook hold at most 32767 characters")
	}
	return nil
}
