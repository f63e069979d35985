package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
)

// rootCommand is the whole command tree.
func rootCommand(c *console) *cobra.Command {
	root := &cobra.Command{
		Use:   "loudfor",
		Short: "How loud can this car get for this money, and why?",
		Long: `loudfor finds the loudest complete car-audio builds for a fixed budget: it reads
a catalogue of parts and a brief (the cap, the car, what stays), predicts every
build that could win, and ranks them with the reasons.

Try it without any file:  loudfor pick
Start with your own:      loudfor new FOLDER`,
		SilenceErrors:              true,
		SilenceUsage:               true,
		SuggestionsMinimumDistance: 2,
		Args:                       cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError{text: flagSuggestion(cmd, err), command: cmd.CommandPath()}
	})
	help := root.HelpFunc()
	root.SetHelpFunc(func(cmd *cobra.Command, args []string) {
		var text bytes.Buffer
		out := cmd.OutOrStdout()
		cmd.SetOut(&text)
		help(cmd, args)
		cmd.SetOut(out)
		_, _ = io.WriteString(out, table.Fit(c.style.Width(), text.String()))
	})
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages", fmt.Sprintf(".FlagUsagesWrapped %d", c.style.Width())))
	root.PersistentFlags().BoolVar(&c.json, "json", false, `answer as JSON (its shape: "loudfor help json")`)
	root.PersistentFlags().BoolVar(&c.markdown, "markdown", false, "answer as Markdown, for a message or a document")
	root.PersistentFlags().BoolVarP(&c.quiet, "quiet", "q", false, "no warnings about the files, no progress: only the answer, and errors")
	root.PersistentPreRun = func(*cobra.Command, []string) {
		if c.markdown {
			c.style = style.Markdown()
		}
	}
	root.AddCommand(newCommand(c), pickCommand(c), ladderCommand(c), predictCommand(c), boxCommand(c), checkCommand(c), versionCommand(c))
	root.AddCommand(auditCommand(c), schemaCommand(c), manCommand(c), whyCommand(c))
	root.AddCommand(versusCommand(c), repriceCommand(c), bookCommand(c))
	root.AddCommand(importCommand(c), exportCommand(c))
	root.AddCommand(serveCommand(c))
	root.AddCommand(meterCommand(c))
	root.AddCommand(sheetCommand(c))
	root.AddCommand(growCommand(c))
	root.AddCommand(refreshCommand(c))
	root.AddCommand(topics(c)...)
	return root
}

func unknownCommand(root *cobra.Command, name string) error {
	text := fmt.Sprintf("there is no command %q", name)
	if near := root.SuggestionsFor(name); len(near) > 0 {
		text += fmt.Sprintf("; did you mean %q?", strings.Join(near, `" or "`))
	}
	return usageError{text: text, command: root.CommandPath()}
}

// atMost refuses surplus arguments in words of this program.
func atMost(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return usageError{text: fmt.Sprintf("%s takes %s; %q is one too many", cmd.Name(), what, args[n]), command: cmd.CommandPath()}
		}
		return nil
	}
}
