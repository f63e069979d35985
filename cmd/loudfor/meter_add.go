package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog/book"
	"loudfor/catalog/readings"
	"loudfor/cmd/internal/record"
)

func meterAddCommand(c *console) *cobra.Command {
	var m metered
	cmd := &cobra.Command{
		Use:   "add READINGS...",
		Short: "Add readings to the job book",
		Long: `add reads files of readings, holds them against the car and the catalogue, and
adds them to the job book, which is made if there is none. The build of each is
kept as its parts, so that the file that named it may go, unless it describes a
box that the shop built.

All readings are added, or none. One that is in the book already, the same in
every value and of the same day if it states one, is not added again; two that are
alike and yet two, in different files, need a note that tells them apart.`,
		Example: `  loudfor meter add monday.yaml --catalog parts/
  loudfor meter add monday.csv --catalog parts/ --book shop.db`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "add takes files of readings", command: cmd.CommandPath()}
			}
			return addReadings(cmd.Context(), c, &m, args)
		},
	}
	m.flags(cmd)
	cmd.Flags().Lookup("book").Usage = "`file` of the job book (default: loudfor/book.db in the user's data folder)"
	return cmd
}

func addReadings(ctx context.Context, c *console, m *metered, files []string) error {
	file := m.book
	m.book = "" // what is in the book already is not read
	job, err := m.load(ctx, c, files)
	if err != nil {
		return err
	}
	var added []book.Added
	err = openBook(file, book.Options{Create: true}, func(b *book.Book, at string) (err error) {
		file = at
		added, err = readings.Book(ctx, b, job.InWords())
		return err
	})
	if err != nil {
		return err
	}
	ids, known := make([]int64, len(added)), []int64{}
	for i, a := range added {
		if ids[i] = a.ID; a.Known {
			known = append(known, a.ID)
		}
	}
	if c.json {
		return c.writeJSON(record.MeterAdd{Schema: record.MeterAddSchema, Book: file, IDs: ids, Known: known})
	}
	are := "readings of %s are"
	if len(ids) == 1 {
		are = "reading of %s is"
	}
	if _, err = fmt.Fprintf(c.out, "%d "+are+" in the job book %s, as %s.\n", len(ids), job.Vehicle.Name, file, numbered(ids)); err != nil || len(known) == 0 {
		return err
	}
	if len(known) == len(ids) {
		_, err = fmt.Fprintln(c.out, "Nothing was added: the book had it all before.")
		return err
	}
	_, err = fmt.Fprintf(c.out, "%d of them, %s, the book had before.\n", len(known), numbered(known))
	return err
}

// numbered names readings: "number 7", "numbers 1 to 6", "numbers 1, 2, 9".
func numbered(ids []int64) string {
	last := len(ids) - 1
	if last == 0 {
		return fmt.Sprintf("number %d", ids[0])
	}
	if slices.IsSorted(ids) && ids[last]-ids[0] == int64(last) {
		return fmt.Sprintf("numbers %d to %d", ids[0], ids[last])
	}
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = fmt.Sprint(id)
	}
	return "numbers " + strings.Join(words, ", ")
}
