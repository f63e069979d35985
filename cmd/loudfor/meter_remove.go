package main

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"loudfor/catalog/book"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
)

func meterRemoveCommand(c *console) *cobra.Command {
	var file string
	cmd := &cobra.Command{
		Use:     "remove NUMBER...",
		Short:   "Forget readings of the job book",
		Long:    "remove forgets readings of the job book, by the numbers that meter list shows: all\nof them, or none if one of the numbers is no reading's.",
		Example: `  loudfor meter remove 7 8 --book shop.db`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "remove takes the numbers of readings; meter list shows them", command: cmd.CommandPath()}
			}
			var ids []int64
			for _, arg := range args {
				id, err := strconv.ParseInt(arg, 10, 64)
				if err != nil || id < 1 {
					return inputs.UsageError{Text: fmt.Sprintf("%q is not the number of a reading; meter list shows them", arg)}
				}
				if !slices.Contains(ids, id) {
					ids = append(ids, id)
				}
			}
			return openBook(file, book.Options{}, func(b *book.Book, file string) error {
				if err := b.RemoveReadings(cmd.Context(), ids...); err != nil {
					return err
				}
				if c.json {
					return c.writeJSON(record.MeterRemove{Schema: record.MeterRemoveSchema, Book: file, IDs: ids})
				}
				what := fmt.Sprintf("%d readings are", len(ids))
				if len(ids) == 1 {
					what = fmt.Sprintf("Reading %d is", ids[0])
				}
				_, err := fmt.Fprintf(c.out, "%s removed from %s\n", what, file)
				return err
			})
		},
	}
	cmd.Flags().StringVar(&file, "book", "", "`file` of the job book (default: loudfor/book.db in the user's data folder)")
	return cmd
}
