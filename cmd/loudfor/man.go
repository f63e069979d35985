package main

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"loudfor/catalog/writing"
	"loudfor/cmd/internal/manual"
)

// manSection is that of programs for users.
const manSection = "1"

func manCommand(c *console) *cobra.Command {
	return &cobra.Command{
		Use:   "man FOLDER",
		Short: "Write the manual pages, one for each command and topic",
		Long: `man writes a page for man(1) for each command and each topic of help into a folder,
which it makes if there is none, from the same texts as --help. For one user: loudfor man ~/.local/share/man/man1`,
		Example: "  loudfor man /usr/local/share/man/man1",
		Args:    atMost(1, "one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "man takes the folder for the pages", command: cmd.CommandPath()}
			}
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return err
			}
			return manPages(cmd.Root(), args[0])
		},
	}
}

// manPages writes the page of a command and of those below it. The date is
// left at its zero, so that the same program writes the same pages.
func manPages(cmd *cobra.Command, folder string) error {
	for _, sub := range cmd.Commands() {
		if t, ok := manual.Find(sub.Name()); ok && sub.Parent() == sub.Root() {
			sub.Long = t.Text // Markdown, which the writer of pages reads
			if err := manPages(sub, folder); err != nil {
				return err
			}
		} else if sub.IsAvailableCommand() {
			if err := manPages(sub, folder); err != nil {
				return err
			}
		}
	}
	name := strings.ReplaceAll(cmd.CommandPath(), " ", "-")
	header := doc.GenManHeader{Title: strings.ToUpper(name), Section: manSection, Source: "loudfor", Date: &time.Time{}}
	cmd.DisableAutoGenTag = true
	return writing.Replace(filepath.Join(folder, name+"."+manSection), func(w io.Writer) error { return doc.GenMan(cmd, &header, w) })
}
