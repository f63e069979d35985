package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/tables"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/start"
)

// beginning are the flags of new.
type beginning struct {
	wishes      start.Wishes
	stays, from string
	units       []string
	skip        bool
}

func newCommand(c *console) *cobra.Command {
	var b beginning
	cmd := &cobra.Command{
		Use:   "new FOLDER",
		Short: "Make a folder to start from: sample parts, a vehicle, a brief",
		Long: `new makes a folder in which pick, check and ladder answer at once: a short list of
sample parts with one of each kind, to be overwritten with what you can buy, the
radio that is in the car, a vehicle, and a brief. With --from a shop's list takes
the place of the samples; it is read as import reads it.

On a terminal, and without any flag, it asks four questions. It overwrites
nothing.`,
		Example: `  loudfor new shop
  loudfor new shop --currency EUR --metric --cap 600 --body wagon
  loudfor new shop --from list.xlsx --stays radio`,
		Args: atMost(1, "one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "new takes the folder to make, such as: loudfor new shop", command: cmd.CommandPath()}
			}
			if cmd.Flags().NFlag() == 0 && c.asks() {
				if err := b.ask(c.in, c.err); err != nil {
					return err
				}
			}
			return b.run(c, args[0])
		},
	}
	f := cmd.Flags()
	f.StringVar(&b.wishes.Currency, "currency", "", "the `code` of your currency, such as EUR (default USD, or that of --cap)")
	f.BoolVar(&b.wishes.Metric, "metric", false, "centimetres, litres and square millimetres, not inches, cubic feet and gauges")
	f.StringVar(&b.wishes.Cap, "cap", "", "the most `money` that a build may cost (default 400)")
	f.StringVar(&b.wishes.Body, "body", "", "the body `style`: "+strings.Join(start.Bodies(), ", ")+" (default small sedan)")
	f.StringVar(&b.stays, "stays", "", "`what` stays in the car: "+strings.Join(start.Stays, ", ")+" (default radio and speakers)")
	f.StringVar(&b.from, "from", "", "a shop's `list` (CSV, XLSX) in place of the samples, read as import reads it")
	f.StringArrayVar(&b.units, "unit", nil, "the unit of the bare numbers of a `column` of the list, such as \"RMS=W\"; may be repeated")
	f.BoolVar(&b.skip, "skip-bad", false, "leave out rows of the list with mistakes instead of refusing it")
	complete(cmd, "body", start.Bodies()...)
	complete(cmd, "stays", start.Stays...)
	return cmd
}

// asks tells whether there is a person to ask.
func (c *console) asks() bool {
	in, ok := c.in.(*os.File)
	out, also := c.err.(*os.File)
	return ok && also && !c.json && !c.quiet && isatty.IsTerminal(in.Fd()) && isatty.IsTerminal(out.Fd())
}

// ask puts the four questions. An empty answer takes what stands in brackets.
func (b *beginning) ask(in io.Reader, out io.Writer) error {
	lines := bufio.NewScanner(in)
	question := func(text string, to *string, accept func(string) error) error {
		for {
			fmt.Fprintf(out, "%s ", text)
			if !lines.Scan() {
				return errors.Join(lines.Err(), answeredError{statusUsage, "the questions were not answered: nothing was written"})
			}
			*to = strings.TrimSpace(lines.Text())
			err := accept(*to)
			if *to == "" || err == nil {
				return nil
			}
			fmt.Fprintf(out, "  %v\n", err)
		}
	}
	return errors.Join(
		question("How much may everything cost? [400 USD]", &b.wishes.Cap, func(s string) error { _, err := inputs.ParseCap(s, "USD"); return err }),
		question("Which body style is the car? "+strings.Join(start.Bodies(), ", ")+" [small sedan]", &b.wishes.Body, func(s string) error {
			_, err := start.Files(start.Wishes{Body: s})
			return err
		}),
		question("What stays in it? "+strings.Join(start.Stays, ", ")+" [radio and speakers]", &b.stays, func(s string) error { return b.staying(s) }),
		question("Where are the prices: a shop's list, CSV or XLSX? [none yet: samples]", &b.from, func(s string) error { _, err := os.Stat(s); return err }),
	)
}

// staying reads what stays in the car.
func (b *beginning) staying(text string) error {
	i := slices.Index(start.Stays, strings.ToLower(strings.Join(strings.Fields(text), " ")))
	if i < 0 {
		return fmt.Errorf("--stays is %s, not %q", strings.Join(start.Stays, ", "), text)
	}
	b.wishes.Stays = start.Stay(i)
	return nil
}

func (b *beginning) run(c *console, folder string) error {
	w := &b.wishes
	if b.stays != "" {
		if err := b.staying(b.stays); err != nil {
			return inputs.UsageError{Text: err.Error()}
		}
	}
	w.Currency = strings.ToUpper(w.Currency)
	if _, err := catalog.ParseMoney("1 " + w.Currency); w.Currency != "" && err != nil {
		return inputs.UsageError{Text: fmt.Sprintf("--currency %s: a currency has three letters, such as EUR", w.Currency)}
	}
	var list *tables.List
	if b.from != "" {
		var err error
		if list, err = b.read(c); err != nil {
			return err
		}
	}
	if w.Cap != "" {
		sum, err := inputs.ParseCap(w.Cap, orUSD(w.Currency))
		if err != nil {
			return inputs.UsageError{Text: fmt.Sprintf("--cap %s: %v", w.Cap, err)}
		}
		if w.Currency != "" && sum.Currency != w.Currency {
			return inputs.UsageError{Text: fmt.Sprintf("--cap %s: the parts are in %s", w.Cap, w.Currency)}
		}
		w.Cap, w.Currency = sum.String(), sum.Currency
	}
	files, err := start.Files(*w)
	if err != nil {
		return inputs.UsageError{Text: err.Error()}
	}
	if err := start.Write(folder, files); err != nil {
		return err
	}
	return c.begun(folder, files, list)
}

func orUSD(currency string) string {
	if currency == "" {
		return "USD"
	}
	return currency
}

// read is the list of --from, as a catalogue.
func (b *beginning) read(c *console) (*tables.List, error) {
	i := importing{currency: b.wishes.Currency, units: b.units, skip: b.skip}
	list, report, err := i.read(c, b.from)
	if err != nil {
		return nil, err
	}
	c.remark(report)
	for _, p := range list.Parts {
		if p.Priced {
			b.wishes.Currency = p.Price.Currency
			break
		}
	}
	var text bytes.Buffer
	if err := list.Write(&text); err != nil {
		return nil, err
	}
	b.wishes.List = text.Bytes()
	return list, nil
}

// begun says what was made and what to do with it.
func (c *console) begun(folder string, files []start.File, list *tables.List) error {
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = filepath.Join(folder, filepath.FromSlash(f.Name))
	}
	if c.json {
		doc := record.New{Schema: record.NewSchema, Folder: folder, Files: names, Samples: list == nil}
		if list != nil {
			doc.Parts = len(list.Parts)
		}
		return c.writeJSON(doc)
	}
	page := c.page()
	if list != nil {
		page.Imported(list, nil)
	}
	if err := page.Close(); err != nil {
		return err
	}
	what := "The parts are samples, one of each kind: overwrite them with what you can buy."
	if list != nil {
		what = fmt.Sprintf("The parts are the %d of %s.", len(list.Parts), filepath.Base(list.Name))
	}
	_, err := fmt.Fprintf(c.out, "Written:\n  %s\n\n%s Then:\n\n  cd %s\n  loudfor pick\n", strings.Join(names, "\n  "), what, folder)
	return err
}
