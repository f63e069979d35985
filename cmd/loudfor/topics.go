package main

import (
	"github.com/spf13/cobra"

	"loudfor/cmd/internal/formats"
	"loudfor/cmd/internal/record"
)

// topics are pages of help that are no commands.
func topics() []*cobra.Command {
	return []*cobra.Command{
		{Use: "json", Short: "The shape of the answers with --json", Long: record.Help},
		{Use: "formats", Short: "The file formats, with every key", Long: formats.Help()},
	}
}
