package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"loudfor/catalog/writing"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/solver"
	"loudfor/optimizer"
	"loudfor/optimizer/linear"
)

// checks are what audit asks beyond the wishes.
type checks struct {
	lp     string // file for the text; "-": standard output
	format string
	within float64
	limit  time.Duration
}

// formatsOfLP are the grammars by the names of --format.
var formatsOfLP = map[string]linear.Dialect{"lp": linear.Sections, "lp_solve": linear.Statements}

func auditCommand(c *console) *cobra.Command {
	var w wishes
	checks := checks{format: "lp", within: 3, limit: time.Minute}
	cmd := &cobra.Command{
		Use:   "audit [BRIEF]",
		Short: "Have the best build checked by general-purpose solvers",
		Long: `audit finds the best build, writes the choice of parts as an integer program with
the model's levels in a table, and has it solved by each of lp_solve, glpsol and
cbc that is installed (Debian: lp-solve, glpk-utils, coinor-cbc). They know
nothing of this program's search, so they must come to the same level, to
0.001 dB, and to the same price. It exits with 1 when one does not, or when none
is installed.

The brief is a file, "-" for standard input, or demo:NAME for one of the built-in
ones: ` + inputs.DemoNames(inputs.DemoBriefs) + `.

With --lp the program is written as text and not solved here. What is quieter
than the best build by more than --within is left out of it: if the solvers find
that very build's level, nothing that was left out can be better. Tables of more
than a thousand parts take long, and solvers longer.`,
		Example: `  loudfor audit
  loudfor audit brief.yaml --catalog parts/ --json
  loudfor audit brief.yaml --catalog parts/ --lp selection.lp
  loudfor audit demo:800-music --lp - --format lp_solve`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if err := checks.check(cmd); err != nil {
				return err
			}
			if checks.lp == "-" && c.json {
				return usageError{text: "--lp - and --json both want standard output; write --lp into a file", command: cmd.CommandPath()}
			}
			w.request.Brief = first(args)
			return audit(cmd.Context(), c, &w, &checks)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&checks.lp, "lp", "", "only write the program into this `file` (-: standard output)")
	cmd.Flags().StringVar(&checks.format, "format", checks.format, "the text's `grammar`: lp (glpsol --lp, cbc and others) or lp_solve")
	cmd.Flags().Float64Var(&checks.within, "within", checks.within, "leave out what is quieter by more `decibels` than the best build (0: nothing)")
	cmd.Flags().DurationVar(&checks.limit, "solver-time", checks.limit, "how `long` a solver may take for each of its two questions")
	complete(cmd, "format", "lp", "lp_solve")
	return cmd
}

func (k *checks) check(cmd *cobra.Command) error {
	wrong := func(text string) error { return usageError{text: text, command: cmd.CommandPath()} }
	if _, known := formatsOfLP[k.format]; !known {
		return wrong(fmt.Sprintf("--format is lp or lp_solve, not %q", k.format))
	}
	if !(k.within >= 0 && k.within <= 1000) {
		return wrong("--within is from 0 to 1000")
	}
	if k.limit < time.Second {
		return wrong("--solver-time is at least 1s")
	}
	return nil
}

func audit(ctx context.Context, c *console, w *wishes, k *checks) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	problem := w.problem(job, 1)
	problem.Bare = true
	result, err := optimizer.Pick(ctx, problem)
	if err != nil {
		return err
	}
	if result.Outcome != optimizer.Optimal && result.Outcome != optimizer.Infeasible {
		return context.Canceled // without a proof there is nothing to audit
	}
	floor := 0.0
	if len(result.Builds) > 0 && k.within > 0 {
		floor = max(0, result.Builds[0].Objective-k.within)
	}
	selection, err := optimizer.Formulate(ctx, problem, floor)
	if err != nil {
		return err
	}
	var findings []solver.Finding
	if k.lp != "" {
		err = c.writeProgram(selection.Loudest().Text(formatsOfLP[k.format]), k.lp)
	} else {
		findings, err = c.askSolvers(ctx, selection, k.limit)
	}
	if err != nil || k.lp == "-" {
		return err
	}
	a := answer.Audit{Result: result, Findings: findings, Program: selection.Program, Written: k.lp}
	if c.json {
		err = c.writeJSON(record.OfAudit(job.Brief, job.Vehicle, c.origin, result, selection.Program, findings))
	} else {
		page := c.page()
		page.Audit(job.Question(), a)
		err = page.Close()
	}
	if err != nil {
		return err
	}
	for i := range findings {
		if !findings[i].Agrees(&result) {
			return answeredError{statusBadInput, findings[i].Name + " does not confirm the search's answer"}
		}
	}
	return nil
}

// writeProgram writes the text into a file or on standard output.
func (c *console) writeProgram(text, name string) error {
	if name == "-" {
		_, err := fmt.Fprint(c.out, text)
		return err
	}
	return writing.Replace(name, func(w io.Writer) error { _, err := io.WriteString(w, text); return err })
}

// askSolvers asks every solver there is, one after the other, and says which
// are missing.
func (c *console) askSolvers(ctx context.Context, s *optimizer.Selection, limit time.Duration) (findings []solver.Finding, err error) {
	installed := solver.Installed()
	var names, packages []string
	for _, m := range solver.Missing() {
		names, packages = append(names, m.Name), append(packages, m.Package)
	}
	if len(installed) == 0 {
		return nil, fmt.Errorf("no solver is installed: install one of %s (Debian: %s), or write the program with --lp",
			strings.Join(names, ", "), strings.Join(packages, ", "))
	}
	if len(names) > 0 {
		fmt.Fprintf(c.err, "not installed, not asked: %s (Debian: %s)\n", strings.Join(names, ", "), strings.Join(packages, ", "))
	}
	for _, i := range installed {
		findings = append(findings, solver.Audit(ctx, i, s, limit))
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return findings, nil
}
