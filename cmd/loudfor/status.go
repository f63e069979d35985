package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"loudfor/catalog/units"
	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
)

// The exit statuses. A script can tell by them what to mend: the files, the
// command line, or the customer's wishes.
const (
	statusDone     = 0 // the answer was given
	statusBadInput = 1 // a file, a value or the outside world is at fault
	statusUsage    = 2 // the command line is
	statusNoBuild  = 3 // the inputs are right and no build satisfies the brief
	statusChanged  = 4 // new prices change an answer (reprice)
)

// usageError is a command line that does not make sense.
type usageError struct{ text, command string }

func (e usageError) Error() string {
	return fmt.Sprintf("%s\nSee \"%s --help\".", e.text, e.command)
}

// answeredError says that the answer is printed and is "none", or not known:
// only the status and a line for standard error are left.
type answeredError struct {
	status int
	text   string
}

func (e answeredError) Error() string { return e.text }

// verdict is the error that an outcome stands for; a ranking is none.
func verdict(r optimizer.Result) error {
	switch r.Outcome {
	case optimizer.Infeasible:
		return answeredError{statusNoBuild, "no build satisfies the brief"}
	case optimizer.Unknown:
		return answeredError{statusBadInput, fmt.Sprintf("the search ended (%s) before it found a build", r.Stop)}
	}
	return nil
}

func statusOf(err error) int {
	if _, ok := errorIs[usageError](err); ok {
		return statusUsage
	}
	if _, ok := errorIs[inputs.UsageError](err); ok {
		return statusUsage
	}
	if answered, ok := errorIs[answeredError](err); ok {
		return answered.status
	}
	return statusBadInput
}

// flagSuggestion adds the nearest flag to pflag's message of an unknown one.
func flagSuggestion(cmd *cobra.Command, err error) string {
	text := err.Error()
	name, unknown := strings.CutPrefix(text, "unknown flag: --")
	if !unknown {
		return text
	}
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := units.Nearest(name, known); near != "" {
		text += fmt.Sprintf("; did you mean --%s?", near)
	}
	return text
}
