package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog/schemas"
	"loudfor/catalog/units"
)

func schemaCommand(c *console) *cobra.Command {
	names := strings.Join(schemas.Names(), ", ")
	return &cobra.Command{
		Use:   "schema FILE-KIND",
		Short: "Write the JSON Schema of a kind of file, for editors",
		Long: `schema writes the JSON Schema (draft 2020-12) of one kind of file: ` + names + `.
An editor that knows it completes keys and marks mistakes while a file is typed.
It is made from the tables that the files are read with. Many editors take the
name of a schema from the first line of a YAML file:

  # yaml-language-server: $schema=parts.schema.json`,
		Example:   "  loudfor schema parts > parts.schema.json",
		ValidArgs: schemas.Names(),
		Args:      atMost(1, "one kind of file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "schema takes a kind of file: " + names, command: cmd.CommandPath()}
			}
			text, err := schemas.JSON(args[0])
			if err != nil {
				if near := units.Nearest(args[0], schemas.Names()); near != "" {
					err = fmt.Errorf("%w; did you mean %q?", err, near)
				}
				return usageError{text: err.Error() + "; the kinds are " + names, command: cmd.CommandPath()}
			}
			_, err = c.out.Write(text)
			return err
		},
	}
}
