// Package formats writes the reference of the file formats: every key, what
// its value looks like, what it is for, and an example of each file.
//
//	fmt.Print(formats.Help(80))
//
// The keys come from the tables that the files are read with, so the reference
// cannot go out of date; the examples are read by a test.
package formats

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/letterhead"
	"loudfor/catalog/plan"
	"loudfor/catalog/readings"
	"loudfor/catalog/tables"
	"loudfor/cmd/internal/table"
)

// Help is the text of "loudfor help formats", at most so many cells wide.
func Help(width int) string {
	var b strings.Builder
	b.WriteString(intro)
	for _, example := range Examples {
		fmt.Fprintf(&b, "\n%s, for example:\n\n%s", example.Title, indented(example.Text))
	}
	b.WriteString(partsLists())
	b.WriteString("\nThe keys. Those marked * have to be there; the others may be left out.\n")
	for _, section := range catalog.Reference() {
		writeKeys(&b, width, heading(section.Title), section.Keys)
	}
	b.WriteString(priceLists(width))
	writeKeys(&b, width, "A file of readings: keys beside the list hold for all of it; in CSV those of one are the columns", readings.Reference())
	writeKeys(&b, width, "The shop's own settings (serve --shop; shop.yaml of the folder)", letterhead.Reference())
	writeKeys(&b, width, "A plan (refresh): what a chain asks of all its shops", plan.Reference())
	writeKeys(&b, width, "A mapping (import --map, --save-map): what the columns of a shop's list are for", tables.MappingSpecs())
	return table.Fit(width, strings.TrimRight(b.String(), "\n"))
}

func writeKeys(b *strings.Builder, width int, heading string, keys []document.Spec) {
	fmt.Fprintf(b, "\n%s", table.Indent(width, "", heading))
	var rows [][]string
	appendKeys(&rows, "", keys)
	columns := []table.Column{{Title: "key"}, {Title: "value", Fill: true}, {Title: "what for", Fill: true}}
	if err := table.WriteIndented(b, width, "  ", columns, rows); err != nil {
		panic(err) // a string takes whatever is written to it
	}
}

func heading(title string) string {
	switch title {
	case "part":
		return "Every part"
	case "build":
		return "A build: the keys of a brief (cap may be left out), and"
	case "brief":
		return "A brief"
	case "vehicle":
		return "A vehicle"
	case "store":
		return "A store, under the key stores beside parts"
	case "deal":
		return "A deal, under the key deals beside parts, or in a file of its own"
	}
	return strings.ToUpper(title[:1]) + title[1:]
}

// appendKeys lists keys, those of a group under the name of the group.
func appendKeys(rows *[][]string, group string, keys []document.Spec) {
	for _, key := range keys {
		name := group + key.Key
		if key.Required {
			name += " *"
		}
		value := key.Expected()
		if key.Range != "" && key.Shape != document.Price {
			value += "; " + rangeWords(key.Range)
		}
		if key.Default != "" {
			value += "; default " + key.Default
		}
		*rows = append(*rows, []string{name, value, key.Help})
		appendKeys(rows, group+key.Key+".", key.Sub)
	}
}

// rangeWords turns "5 Hz..500 Hz" and ">0 W..1000 W" into words.
func rangeWords(text string) string {
	low, high, ok := strings.Cut(text, "..")
	if !ok {
		return text
	}
	if above, over := strings.CutPrefix(low, ">"); over {
		return "above " + above + ", at most " + high
	}
	return low + " to " + high
}

func indented(text string) string {
	return "  " + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n  ") + "\n"
}
