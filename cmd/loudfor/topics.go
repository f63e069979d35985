package main

import (
	_ "embed"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/formats"
	"loudfor/cmd/internal/record"
)

// limits is what the model leaves out, with its size.
//
//go:embed limits.txt
var limits string

// topics are pages of help that are no commands.
func topics() []*cobra.Command {
	files := &cobra.Command{Use: "formats", Short: "The file formats, with every key"}
	// Its tables take longer to set than most commands to run.
	files.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		cmd.Long = formats.Help()
		cmd.SetHelpFunc(nil)
		_ = cmd.Help()
	})
	return []*cobra.Command{{Use: "json", Short: "The shape of the answers with --json", Long: record.Help}, files,
		{Use: "limits", Short: "What the model leaves out, in decibels", Long: limits}}
}
