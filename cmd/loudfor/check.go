package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/table"
)

func checkCommand(c *console) *cobra.Command {
	var r inputs.Request
	full := false
	cmd := &cobra.Command{
		Use:   "check",
		Short: "Check a catalogue: errors, contradictions, claims, what will be assumed",
		Long: `check reads a catalogue and reports everything that is wrong in it (errors),
cannot be quite right (warnings: a card that contradicts itself, a power that
no fuse could feed, a cable with more fuse than copper) or will be assumed
(remarks). What is mended alike stands together; --full shows every one with its line.
It exits with 1 when there are errors, and with 0 otherwise.`,
		Example: `  loudfor check --catalog parts/
  loudfor check --catalog parts/ --json`,
		Args: atMost(0, "no argument; name the catalogue with --catalog"),
		RunE: func(*cobra.Command, []string) error { return check(c, r, full) },
	}
	shelfFlags(cmd, &r)
	cmd.Flags().BoolVar(&full, "full", false, "every finding by itself, with its line")
	return cmd
}

// check answers on standard output: here the problems are the answer. Errors
// go to standard error as with every command.
func check(c *console, r inputs.Request, full bool) error {
	r = r.Settled()
	c.origin = record.Origin{Demo: len(r.Catalog) == 0, From: r.From}
	var catalogue *catalog.Catalogue
	report, err := heard(c.interrupted, func() (*catalog.Report, error) {
		read, report := r.Parts()
		if err := report.Err(); err != nil {
			return nil, err
		}
		report.Merge(&catalog.Report{Problems: catalog.Check(read)})
		report.Sort(0)
		catalogue = read
		return report, nil
	})
	if err != nil {
		return err
	}
	if c.json {
		problems := report.Problems
		if problems == nil {
			problems = []catalog.Problem{}
		}
		return c.writeJSON(record.Check{Schema: record.CheckSchema, From: r.From, Parts: len(catalogue.Parts), Problems: problems})
	}
	page := c.page()
	if !full && report.Count(catalog.Error) == 0 {
		page.Checked(report.Problems, "--full shows every one with its line.")
	}
	if err := page.Close(); err != nil {
		return err
	}
	if full || report.Count(catalog.Error) > 0 {
		if err := report.Write(c.out, c.style.On()); err != nil {
			return err
		}
	}
	text := "no error"
	if len(report.Problems) > 0 {
		text = report.Summary()
	}
	which := ""
	if len(r.Catalog) == 0 {
		which = " of the built-in demo, which is invented"
	}
	_, err = io.WriteString(c.out, table.Indent(c.style.Width(), "", fmt.Sprintf("%d parts%s: %s", len(catalogue.Parts), which, text)))
	return err
}
