package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"loudfor/catalog/book"
	"loudfor/catalog/readings"
	"loudfor/cmd/internal/metering"
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
box that the shop built.`,
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
	var ids []int64
	err = openBook(file, book.Options{Create: true}, func(b *book.Book, at string) (err error) {
		file = at
		ids, err = readings.Book(ctx, b, inWords(job))
		return err
	})
	if err != nil {
		return err
	}
	if c.json {
		return c.writeJSON(record.MeterAdd{Schema: record.MeterAddSchema, Book: file, IDs: ids})
	}
	if len(ids) == 1 {
		_, err = fmt.Fprintf(c.out, "1 reading of %s is in the job book %s, as number %d.\n", job.Vehicle.Name, file, ids[0])
		return err
	}
	_, err = fmt.Fprintf(c.out, "%d readings of %s are in the job book %s, as numbers %d to %d.\n", len(ids), job.Vehicle.Name, file, ids[0], ids[len(ids)-1])
	return err
}

// inWords are the readings with the parts of their builds. A box that the shop
// built stands in its build file alone, which therefore stays named.
func inWords(j *metering.Job) []readings.Reading {
	list := make([]readings.Reading, len(j.Readings))
	for i, r := range j.Readings {
		if m := j.Cases[j.Study.Readings[i].Case]; !m.Built {
			r.Build = m.Words
		}
		r.Vehicle = j.Vehicle.Name
		list[i] = r
	}
	return list
}
