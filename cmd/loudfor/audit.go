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
	"loudfor/cmd/internal/handover"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/solver"
	"loudfor/optimizer"
	every "loudfor/optimizer/audit"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/setting"
)

// checks are what audit asks beyond the wishes.
type checks struct {
	solvers bool
	lp      string // file for the text; "-": standard output
	format  string
	within  float64
	solving time.Duration
	limit   time.Duration
	folder  string // for a stranger's check
	each    bool   // the best of each driver
}

// formatsOfLP are the grammars by the names of --format.
var formatsOfLP = map[string]linear.Dialect{"lp": linear.Sections, "lp_solve": linear.Statements}

func auditCommand(c *console) *cobra.Command {
	var w wishes
	checks := checks{format: "lp", within: 3, solving: time.Minute}
	cmd := &cobra.Command{
		Use:   "audit [BRIEF]",
		Short: "Have the best build checked by a second, simple program",
		Long: `audit finds the best build and then looks at every block that fits (a driver, so
many times, in so many of one box) by one short theorem: to be louder, the cone
has to pass the travel at which the block is as loud as the best build, and what
drives it must allow that travel. It says how many blocks there are, what settled
them, and "confirmed", "refuted" with the better build, or "not settled" with what
is left. It knows nothing of the search. What is taken on trust is said. It exits
with 1 unless the build is confirmed.

The brief is a file, "-" for standard input, or demo:NAME for one of the built-in
ones: ` + inputs.DemoNames(inputs.DemoBriefs) + `.

With --hand-over it writes what a stranger needs to check the answer without this
program: the premises as numbers, the claim, and a checker in Python with numpy.
"python3 check.py" in that folder then says the same.

With --each-driver it lists the loudest complete build of every driver: a table to
check by eye.

With --solver the choice of parts is besides written as an integer program, with
the model's levels in a table, and solved by each of lp_solve, glpsol and cbc that
is installed (Debian: lp-solve, glpk-utils, coinor-cbc). They must come to the
same level, to 0.001 dB, and to the same price.

With --lp the program is only written as text. What is quieter than the best build
by more than --within is left out of it: if the solvers find that very build's
level, nothing that was left out can be better. Tables of more than a thousand
parts take long, and solvers longer.`,
		Example: `  loudfor audit
  loudfor audit brief.yaml --catalog parts/ --json
  loudfor audit demo:250-reading --solver
  loudfor audit brief.yaml --catalog parts/ --hand-over checked/
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
	cmd.Flags().BoolVar(&checks.solvers, "solver", false, "ask general-purpose solvers as well")
	cmd.Flags().StringVar(&checks.lp, "lp", "", "only write the program into this `file` (-: standard output)")
	cmd.Flags().StringVar(&checks.format, "format", checks.format, "the text's `grammar`: lp (glpsol --lp, cbc and others) or lp_solve")
	cmd.Flags().Float64Var(&checks.within, "within", checks.within, "leave out what is quieter by more `decibels` than the best build (0: nothing)")
	cmd.Flags().DurationVar(&checks.solving, "solver-time", checks.solving, "how `long` a solver may take for each of its two questions")
	cmd.Flags().StringVar(&checks.folder, "hand-over", "", "write premises, claim and a checker into this `folder`")
	cmd.Flags().BoolVar(&checks.each, "each-driver", false, "list the loudest build of every driver as well")
	timeLimit(cmd, &checks.limit)
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
	if k.solving < time.Second {
		return wrong("--solver-time is at least 1s")
	}
	if (k.folder != "" || k.each) && k.lp != "" {
		return wrong("--lp only writes the program; --hand-over and --each-driver go with the audit itself")
	}
	if k.limit < 0 {
		return wrong("--time-limit is above zero, such as 2s")
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
	within := ctx
	if k.limit > 0 {
		var stop context.CancelFunc
		within, stop = context.WithTimeout(ctx, k.limit)
		defer stop()
	}
	a := answer.Audit{Written: k.lp}
	err = c.search(within, limits{}, &problem, func(ctx context.Context) (err error) {
		a.Result, err = optimizer.Pick(ctx, problem)
		return err
	})
	if err != nil {
		return err
	}
	proven := a.Result.Outcome == optimizer.Optimal || a.Result.Outcome == optimizer.Infeasible
	switch {
	case ctx.Err() != nil || !proven && (k.lp != "" || k.solvers):
		return context.Canceled // without a proof there is nothing to audit
	case k.lp != "":
	case !proven:
		a.Every = &every.Report{Left: []string{"the search was stopped before it was sure of its own answer"}}
	default:
		if err = c.everyBlock(within, problem, &a, k); err != nil {
			return err
		}
	}
	if k.lp != "" || k.solvers {
		if err := c.outside(within, &a, problem, k); err != nil || k.lp == "-" {
			return err
		}
	}
	if ctx.Err() != nil {
		return context.Canceled
	}
	if c.json {
		err = c.writeJSON(record.OfAudit(job.Brief, job.Vehicle, c.origin, &a.Result, a.Every, a.Drivers, a.Program, a.Findings))
	} else {
		page := c.page()
		page.Audit(job.Question(), a)
		err = page.Close()
	}
	if err != nil {
		return err
	}
	if r := a.Every; r != nil && r.Verdict != every.Confirmed {
		return answeredError{statusBadInput, "the best build is not confirmed: " + r.Verdict.String()}
	}
	for i := range a.Findings {
		if !a.Findings[i].Agrees(&a.Result) {
			return answeredError{statusBadInput, a.Findings[i].Name + " does not confirm the search's answer"}
		}
	}
	return nil
}

// everyBlock has the answer held against every block.
func (c *console) everyBlock(ctx context.Context, p optimizer.Problem, a *answer.Audit, k *checks) error {
	in, err := setting.Entered(p)
	if err != nil {
		return err
	}
	q := every.Question{Problem: p, Room: in.Room}
	if len(a.Result.Builds) > 0 {
		q.Claim = &a.Result.Builds[0]
	}
	if k.folder != "" {
		if err := handover.Write(k.folder, every.PremisesOf(q)); err != nil {
			return err
		}
	}
	err = c.search(ctx, limits{}, &q.Problem, func(ctx context.Context) error {
		found := every.Check(ctx, q)
		a.Every = &found
		return nil
	})
	if err != nil || !k.each {
		return err
	}
	return c.search(ctx, limits{}, &q.Problem, func(ctx context.Context) error {
		done := false
		if a.Drivers, done = every.EachDriver(ctx, q); !done {
			a.Every.Left = append(a.Every.Left, "the best of every driver was not found: out of time, or too many builds")
			a.Every.Verdict = every.NotSettled
		}
		return nil
	})
}

// outside writes the choice as an integer program, or has it solved.
func (c *console) outside(ctx context.Context, a *answer.Audit, p optimizer.Problem, k *checks) (err error) {
	floor := 0.0
	if len(a.Result.Builds) > 0 && k.within > 0 {
		floor = max(0, a.Result.Builds[0].Objective-k.within)
	}
	selection, err := optimizer.Formulate(ctx, p, floor)
	if err != nil {
		return err
	}
	a.Program = selection.Program
	if k.lp != "" {
		return c.writeProgram(selection.Loudest().Text(formatsOfLP[k.format]), k.lp)
	}
	a.Findings, err = c.askSolvers(ctx, selection, k.solving)
	return err
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
