package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/document"
	"loudfor/catalog/tables"
	"loudfor/catalog/writing"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
)

// importing are the flags of import.
type importing struct {
	kind, mapping, saveMap, sheet, currency, into, output string
	units                                                 []string
	dry, skip                                             bool
}

func importCommand(c *console) *cobra.Command {
	var i importing
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Read a shop's spreadsheet of parts, and write it as a catalogue",
		Long: `import reads parts from a spreadsheet (CSV, or an XLSX workbook; "-" is standard
input, demo:amps an invented list) and writes them as YAML: to standard output, to --output FILE, or into a
file that is kept by hand (--into FILE), in which only what differs is replaced
and every comment stays.

Lists are read as shops have them: in any encoding of Europe, with headings in
English, German, French, Spanish, Italian, Dutch, Portuguese or Polish, several
tables to a sheet, coils such as DVC4 or 2x4, prices with signs. Columns are found
by their names, with the unit in the name or in the cells; for a column that has
none, --unit says it. The kind of part is that of a column, of the title or sheet,
or of the words and values of the row; a row that may be several is named and left
out. How everything was understood is always shown; --dry-run shows it and writes
nothing. What the names do not say, a mapping says: --save-map writes the one that
was used, to be mended by hand and given to --map.

A row of the kind deal is a deal, one of the kind store a shop and its trip. What
other shops take for a part stands in a column offers: "20.00 USD, 2 pieces, at
North Road; 22.00 USD at Pier". --into takes no deals and no stores.

A mistake in any row refuses the file, with all mistakes shown; --skip-bad leaves
such rows out and names them.`,
		Example: `  loudfor import demo:amps --dry-run
  loudfor import amps.csv --kind amplifier --currency USD --output parts/amps.yaml
  loudfor import subs.xlsx --unit "RMS=W" --unit "Size=in" --output parts/subs.yaml
  loudfor import may.xlsx --map dock-street.yaml --into parts/dock-street.yaml`,
		Args: atMost(1, "one file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "import needs a spreadsheet: a file, or -", command: cmd.CommandPath()}
			}
			if i.into != "" && i.output != "" {
				return usageError{text: "--into and --output cannot both be written", command: cmd.CommandPath()}
			}
			return i.run(c, args[0])
		},
	}
	f := cmd.Flags()
	f.StringVar(&i.kind, "kind", "", "the `kind` of all parts, where the list does not say: "+strings.Join(kindWords(), ", "))
	f.StringVar(&i.mapping, "map", "", "`file` that says what the columns are for")
	f.StringVar(&i.saveMap, "save-map", "", "write such a `file`, as the list was understood")
	f.StringVar(&i.sheet, "sheet", "", "the only `sheet` of the workbook to read")
	f.StringVar(&i.currency, "currency", "", "the `code` of the currency of prices that name none, such as USD")
	f.StringArrayVar(&i.units, "unit", nil, "the unit of the bare numbers of a `column`, such as \"RMS=W\"; may be repeated")
	f.StringVar(&i.into, "into", "", "`file` of parts to bring up to date, in place")
	f.StringVarP(&i.output, "output", "o", "", "`file` to write the parts to")
	f.BoolVar(&i.dry, "dry-run", false, "show how the list is understood, and write nothing")
	f.BoolVar(&i.skip, "skip-bad", false, "leave out rows with mistakes instead of refusing the file")
	complete(cmd, "kind", kindWords()...)
	return cmd
}

func kindWords() (out []string) {
	for k := range catalog.KindCount {
		out = append(out, k.String())
	}
	return out
}

func (i *importing) run(c *console, name string) error {
	list, report, err := i.read(c, name)
	if err != nil {
		return err
	}
	var updated *tables.Updated
	if i.into != "" {
		if updated, err = i.update(list, report); err != nil {
			return err
		}
	}
	// What concerns several parts is wrong in any file that they are put in.
	// Deals may name parts of other files; shops and their prices may not clash.
	if _, all := catalog.Assemble(catalog.Items{Parts: list.Parts, Stores: list.Stores}); all.Err() != nil {
		return all.Err()
	}
	c.remark(report)
	return i.write(c, list, updated)
}

// read reads a list; of one that is refused it is told how it was understood.
func (i *importing) read(c *console, name string) (*tables.List, *catalog.Report, error) {
	o, err := i.options()
	if err != nil {
		return nil, nil, err
	}
	thrifty(thriftyGC)
	var report *catalog.Report
	list, err := heard(c.interrupted, func() (*tables.List, error) {
		name, content, problem := readInput(c, name)
		if problem != nil {
			return nil, (&catalog.Report{Problems: []catalog.Problem{*problem}}).Err()
		}
		var list *tables.List
		list, report = tables.Read(name, content, o)
		return list, nil
	})
	if err != nil {
		return nil, nil, err
	}
	if i.saveMap != "" {
		if err := writing.Replace(i.saveMap, list.Mapping(o).Write); err != nil {
			return nil, nil, err
		}
	}
	if err := report.Err(); err != nil {
		return nil, nil, errors.Join(c.understood(list), c.refused(list, i), err)
	}
	return list, report, nil
}

// refused tells what can be done with a list of which only some rows are wrong.
func (c *console) refused(list *tables.List, i *importing) error {
	if c.json || c.quiet || i.skip || len(list.Parts) == 0 {
		return nil
	}
	_, err := fmt.Fprintf(c.err, "The list is refused for these mistakes; --skip-bad takes its other rows (%s).\n\n", facts.Plural(len(list.Parts), "part"))
	return err
}

// understood tells on standard error how a list was read that has no answer on
// standard output.
func (c *console) understood(list *tables.List) error {
	if c.json || c.quiet || len(list.Sheets) == 0 {
		return nil
	}
	page := answer.New(c.err, c.style)
	page.Understood(list)
	return errors.Join(page.Close(), func() error { _, err := io.WriteString(c.err, "\n"); return err }())
}

// thriftyGC collects garbage sooner than other commands do: a distributor's
// workbook unpacks to a hundred times its size, and most of that is soon waste.
const thriftyGC = 50

func (i *importing) options() (tables.Options, error) {
	o := tables.Options{Kind: catalog.KindCount, Currency: strings.ToUpper(i.currency), Sheet: i.sheet, SkipBad: i.skip, Units: map[string]string{}}
	for _, said := range i.units {
		name, unit, ok := strings.Cut(said, "=")
		if !ok || strings.TrimSpace(name) == "" || strings.TrimSpace(unit) == "" {
			return o, inputs.UsageError{Text: fmt.Sprintf("--unit: %q is no column with its unit, such as \"RMS=W\"", said)}
		}
		o.Units[strings.TrimSpace(name)] = strings.TrimSpace(unit)
	}
	if i.kind != "" {
		k, ok := catalog.KindNamed(i.kind)
		if !ok {
			return o, inputs.UsageError{Text: fmt.Sprintf("--kind: %q is not a kind of part; the kinds are %s", i.kind, strings.Join(kindWords(), ", "))}
		}
		o.Kind = k
	}
	if i.mapping != "" {
		content, problem := catalog.ReadBytes(i.mapping, document.MostBytes)
		if problem != nil {
			return o, (&catalog.Report{Problems: []catalog.Problem{*problem}}).Err()
		}
		m, report := tables.ReadMapping(i.mapping, content)
		if err := report.Err(); err != nil {
			return o, err
		}
		o.Mapping = m
	}
	return o, nil
}

// update lays the list over the file of --into; a file that does not exist yet
// is written as a new one.
func (i *importing) update(list *tables.List, report *catalog.Report) (*tables.Updated, error) {
	if _, err := os.Stat(i.into); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	text, problem := catalog.ReadBytes(i.into, document.MostBytes)
	if problem != nil {
		return nil, (&catalog.Report{Problems: []catalog.Problem{*problem}}).Err()
	}
	u, found := list.Update(i.into, text)
	report.Merge(found)
	return u, found.Err()
}

// write puts the parts where they shall go; the answer is on standard output
// unless the parts are.
func (i *importing) write(c *console, list *tables.List, u *tables.Updated) error {
	target := i.output
	if i.into != "" {
		target = i.into
	}
	if !i.dry && target != "" {
		write := list.Write
		if u != nil {
			write = func(w io.Writer) error { _, err := w.Write(u.Text); return err }
		}
		if err := writing.Replace(target, write); err != nil {
			return err
		}
	}
	if i.dry {
		target = ""
	}
	switch {
	case c.json:
		return c.writeJSON(record.OfImport(list, u, target))
	case !i.dry && target == "":
		var text bytes.Buffer
		if err := list.Write(&text); err != nil {
			return err
		}
		if err := c.understood(list); err != nil {
			return err
		}
		_, err := c.out.Write(text.Bytes())
		return err
	}
	page := c.page()
	page.Imported(list, u)
	if err := page.Close(); err != nil {
		return err
	}
	words := "\nNothing was written (--dry-run).\n"
	if target != "" {
		words = "\nWritten to " + target + ".\n"
	}
	_, err := io.WriteString(c.out, words)
	return err
}

// readInput reads a file, standard input, or a list of the demo. The name that
// it gives tells what kind of parts a list without a column kind holds.
func readInput(c *console, name string) (string, []byte, *catalog.Problem) {
	if inDemo, ok := strings.CutPrefix(name, "demo:"); ok {
		file := path.Join(demo.Lists, strings.TrimSuffix(inDemo, ".csv")+".csv")
		content, err := fs.ReadFile(demo.FS, file)
		if err != nil {
			return name, nil, &catalog.Problem{Summary: fmt.Sprintf("the demo has no list %q", inDemo), Detail: "it has " + inputs.DemoNames(demo.Lists)}
		}
		return path.Base(file), content, nil
	}
	if name != "-" {
		content, problem := catalog.ReadBytes(name, tables.MostBytes)
		return name, content, problem
	}
	content, err := io.ReadAll(io.LimitReader(c.in, tables.MostBytes+1))
	if err == nil && len(content) > tables.MostBytes {
		err = errors.New("it is larger than 64 MB")
	}
	if err != nil {
		return name, nil, &catalog.Problem{Summary: "standard input cannot be read: " + err.Error(), Detail: "name a file"}
	}
	return "standard input", content, nil
}
