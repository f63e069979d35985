package main

import (
	"github.com/spf13/cobra"

	"loudfor/cmd/internal/formats"
	"loudfor/cmd/internal/install"
	"loudfor/cmd/internal/manual"
	"loudfor/cmd/internal/record"
)

// topics are pages of help that are no commands: the manual, and the two
// references that the tables of the program write.
func topics(c *console) []*cobra.Command {
	files := page("formats", "The file formats, with every key", func() string { return formats.Help(c.style.Width()) })
	answers := page("json", "The shape of the answers with --json", func() string { return record.Help(c.style.Width(), install.Schema, install.Document{}) })
	all := []*cobra.Command{answers, files}
	for _, t := range manual.Topics() {
		all = append(all, page(t.Name, t.Title, func() string { return manual.Terminal(c.style.Width(), t.Text) }))
	}
	return all
}

// page is a topic whose text takes longer to set than most commands to run, so
// it is made when it is asked for.
func page(name, title string, text func() string) *cobra.Command {
	c := &cobra.Command{Use: name, Short: title}
	c.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		cmd.Long = text()
		cmd.SetHelpFunc(nil)
		_ = cmd.Help()
	})
	return c
}
