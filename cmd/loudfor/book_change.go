package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog/book"
	"loudfor/cmd/internal/record"
)

// What becomes of a job after it was quoted.

func stateWords() (words []string) {
	for _, s := range book.States {
		words = append(words, string(s))
	}
	return words
}

func bookMarkCommand(c *console, file *string) *cobra.Command {
	quote := int64(0)
	cmd := &cobra.Command{
		Use:   "mark JOB STATE",
		Short: "Note that a quote was accepted, ordered or installed",
		Long: `book mark notes what became of the latest quote of a job, or of the one that --quote
names: accepted, ordered, installed; offered takes it back. The day is kept.`,
		Example:           `  loudfor book mark 1 accepted`,
		Args:              exactly(2, "the number of a job and a state: "+strings.Join(stateWords(), ", ")),
		ValidArgsFunction: cobra.FixedCompletions(stateWords(), cobra.ShellCompDirectiveNoFileComp),
		RunE: func(cmd *cobra.Command, args []string) error {
			job, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			state, err := book.ParseState(args[1])
			if err != nil {
				return usageError{text: err.Error(), command: cmd.CommandPath()}
			}
			return openBook(*file, book.Options{}, func(b *book.Book, file string) error {
				q, err := findQuote(cmd.Context(), b, job, quote)
				if err != nil {
					return err
				}
				if err := b.MarkQuote(cmd.Context(), q.ID, state); err != nil {
					return err
				}
				if c.json {
					return c.writeJSON(record.Marked{Schema: record.MarkedSchema, Book: file, Job: job, Quote: q.ID, State: state})
				}
				_, err = fmt.Fprintf(c.out, "Quote %d of job %d is %s\n", q.ID, job, state)
				return err
			})
		},
	}
	cmd.Flags().Int64Var(&quote, "quote", 0, "`number` of the quote (default: the latest of the job)")
	return cmd
}

func bookNoteCommand(c *console, file *string) *cobra.Command {
	return &cobra.Command{
		Use:     "note JOB TEXT",
		Short:   "Write another note for a job",
		Example: `  loudfor book note 1 "calls on Friday"`,
		Args:    exactly(2, "the number of a job and its note"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.changeJob(cmd, *file, args[0], record.NotedSchema, "Job %d has its note in %s", func(b *book.Book, job int64) error {
				return b.SetNote(cmd.Context(), job, args[1])
			})
		},
	}
}

func bookRemoveCommand(c *console, file *string) *cobra.Command {
	forGood := false
	cmd := &cobra.Command{
		Use:   "remove JOB",
		Short: "Take a job with its quotes out of the book",
		Long: `book remove takes a job out of all lists; "loudfor book restore" puts it back, and
"loudfor book list --removed" shows what can be. --for-good forgets it: the customer's
name, the brief and the quotes are deleted from the file.`,
		Example: `  loudfor book remove 3
  loudfor book remove 3 --for-good`,
		Args: exactly(1, "the number of a job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			words := "Job %d is removed from %s"
			if forGood {
				words = "Job %d is forgotten in %s"
			}
			return c.changeJob(cmd, *file, args[0], record.RemovedSchema, words, func(b *book.Book, job int64) error {
				if !forGood {
					return b.RemoveJob(cmd.Context(), job)
				}
				j, err := b.Job(cmd.Context(), job)
				if err == nil && j.Removed.IsZero() {
					err = b.RemoveJob(cmd.Context(), job)
				}
				if err != nil {
					return err
				}
				return b.ForgetJob(cmd.Context(), job)
			})
		},
	}
	cmd.Flags().BoolVar(&forGood, "for-good", false, "delete it from the file")
	return cmd
}

func bookRestoreCommand(c *console, file *string) *cobra.Command {
	return &cobra.Command{
		Use:     "restore JOB",
		Short:   "Put a removed job back",
		Example: `  loudfor book restore 3`,
		Args:    exactly(1, "the number of a job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return c.changeJob(cmd, *file, args[0], record.RestoredSchema, "Job %d is back in %s", func(b *book.Book, job int64) error {
				return b.RestoreJob(cmd.Context(), job)
			})
		},
	}
}

// changeJob does one thing to one job, and says so.
func (c *console) changeJob(cmd *cobra.Command, file, number, schema, words string, change func(*book.Book, int64) error) error {
	job, err := jobNumber(number)
	if err != nil {
		return err
	}
	return openBook(file, book.Options{}, func(b *book.Book, file string) error {
		if err := change(b, job); err != nil {
			return err
		}
		if c.json {
			return c.writeJSON(record.ChangedJob{Schema: schema, Book: file, Job: job})
		}
		_, err := fmt.Fprintf(c.out, words+"\n", job, file)
		return err
	})
}
