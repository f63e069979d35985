package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/tables"
	"loudfor/catalog/writing"
	"loudfor/cmd/internal/inputs"
)

// forms are the ways in which a catalogue can be written.
var forms = map[string]func(io.Writer, *catalog.Catalogue) error{
	"csv": tables.WriteCSV, "xlsx": tables.WriteXLSX, "yaml": catalog.WriteParts,
}

func exportCommand(c *console) *cobra.Command {
	var r inputs.Request
	format, output := "", ""
	cmd := &cobra.Command{
		Use:   "export",
		Short: "Write a catalogue as a spreadsheet, or as one canonical file",
		Long: `export writes all parts, deals and stores of a catalogue as CSV, as an XLSX
workbook with a sheet for each kind, or as one YAML file in canonical form.
Nothing is lost: import reads each of the spreadsheets back to the same values.
What a cell cannot hold, such as a semicolon in the name of a shop that has
offers, is an error that names the part, and nothing is written.

The ending of --output says the format, or --format does.`,
		Example: `  loudfor export --catalog parts/ --output parts.xlsx
  loudfor export --catalog parts/ --format csv > parts.csv`,
		Args: atMost(0, "no argument; name the catalogue with --catalog"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if format == "" {
				format = strings.TrimPrefix(strings.ToLower(filepath.Ext(output)), ".")
			}
			if format == "yml" || format == "" && output == "" {
				format = "yaml"
			}
			write, ok := forms[format]
			if !ok {
				return usageError{text: fmt.Sprintf("--format is csv, xlsx or yaml, not %q", format), command: cmd.CommandPath()}
			}
			catalogue, err := heard(cmd.Context(), r.Sound)
			if err != nil {
				return err
			}
			if output != "" && output != "-" {
				return writing.Replace(output, func(w io.Writer) error { return write(w, catalogue) })
			}
			return write(c.out, catalogue)
		},
	}
	f := cmd.Flags()
	shelfFlags(cmd, &r)
	f.StringVar(&format, "format", "", "the `format`: csv, xlsx or yaml (default: by the ending of --output)")
	f.StringVarP(&output, "output", "o", "", "`file` to write to (default: standard output)")
	complete(cmd, "format", "csv", "xlsx", "yaml")
	return cmd
}
