// Package solver asks the general-purpose solvers that are installed about a
// selection of parts, and compares their answers with the search's.
//
//	for _, s := range solver.Installed() {
//		found := solver.Audit(ctx, s, selection, time.Minute)
//		fmt.Println(found.Name, found.Status, found.Chosen.Cost)
//	}
//
// A solver runs as a process of its own on a file in a temporary folder, with a
// limit of time; what it answers is rounded and held against every row of the
// program in whole numbers (package linear) before it counts. Limit: only the
// solvers that package linear describes.
package solver

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/linear"
)

// Installed lists the solvers that can be run, and Missing the others.
func Installed() []linear.Solver { return those(true) }

// Missing lists the solvers that are not installed.
func Missing() []linear.Solver { return those(false) }

func those(installed bool) (list []linear.Solver) {
	for _, s := range linear.Solvers() {
		if _, err := exec.LookPath(s.Name); (err == nil) == installed {
			list = append(list, s)
		}
	}
	return list
}

// Finding is what one solver found.
type Finding struct {
	Name, Version string
	Status        linear.Status
	Chosen        optimizer.Chosen // when Optimal
	Fault         error            // why the solver gave no answer that counts
}

// Agrees says whether the finding confirms the search: the same level, to the
// step to which levels are compared, and the same price; or no build at all.
func (f *Finding) Agrees(r *optimizer.Result) bool {
	switch {
	case f.Fault != nil || f.Status == linear.Stopped:
		return false
	case f.Status == linear.Infeasible:
		return r.Outcome == optimizer.Infeasible
	case len(r.Builds) == 0:
		return false
	}
	best := &r.Builds[0]
	return difference(f.Chosen.DB, best.Objective) < levelStep/2 && f.Chosen.Cost == best.Cost
}

// levelStep, dB, is the step to which the search compares levels.
const levelStep = 0.001

func difference(a, b float64) float64 { return max(a-b, b-a) }

// Audit asks a solver both questions: the highest level, then the lowest price
// at that level. The limit is for each of them.
func Audit(ctx context.Context, s linear.Solver, sel *optimizer.Selection, limit time.Duration) Finding {
	f := Finding{Name: s.Name, Version: version(ctx, s)}
	program := sel.Loudest()
	for range 2 {
		answer, err := Solve(ctx, s, program, limit)
		if err != nil || answer.Status != linear.Optimal {
			f.Status, f.Fault = answer.Status, err
			return f
		}
		values, err := program.Exact(answer.Values)
		if err != nil {
			f.Fault = fmt.Errorf("its answer breaks the rules of the problem: %w", err)
			return f
		}
		f.Status, f.Chosen = answer.Status, sel.Read(values)
		program = sel.Cheapest(f.Chosen)
	}
	return f
}

// grace is what a solver gets beyond its limit to stop by itself.
const grace = 10 * time.Second

// Solve runs a solver on a program.
func Solve(ctx context.Context, s linear.Solver, p *linear.Program, limit time.Duration) (a linear.Answer, err error) {
	folder, err := os.MkdirTemp("", "loudfor-audit-")
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	program, solution := filepath.Join(folder, "program.lp"), filepath.Join(folder, "solution.txt")
	if err := os.WriteFile(program, []byte(p.Text(s.Dialect)), 0o600); err != nil {
		return a, err
	}
	ctx, cancel := context.WithTimeout(ctx, limit+grace)
	defer cancel()
	out, failure := output(ctx, s.Name, s.Arguments(program, solution, limit))
	if ctx.Err() != nil {
		return a, nil // stopped
	}
	text, err := os.ReadFile(solution)
	if err != nil && !os.IsNotExist(err) {
		return a, err
	}
	if a, err = s.Read(out, string(text)); err != nil {
		return linear.Answer{}, fmt.Errorf("its answer cannot be read: %w", err)
	}
	if a.Status == linear.Stopped && failure != nil {
		return a, fmt.Errorf("it failed: %w", failure)
	}
	return a, nil
}

// output runs a program without a shell, in the C locale, and gives what it
// prints on both outputs.
func output(ctx context.Context, name string, args []string) (string, error) {
	c := exec.CommandContext(ctx, name, args...)
	c.Env = append(os.Environ(), "LC_ALL=C")
	c.WaitDelay = time.Second
	var both bytes.Buffer
	c.Stdout, c.Stderr = &both, &both
	err := c.Run()
	return both.String(), err
}

// version asks a solver for its version; some tell it with a failure's status.
func version(ctx context.Context, s linear.Solver) string {
	ctx, cancel := context.WithTimeout(ctx, grace)
	defer cancel()
	out, _ := output(ctx, s.Name, s.Version)
	return linear.VersionIn(out)
}

// SKUs lists what was chosen, for people: "TM-12V x 2, OR-4C".
func SKUs(parts []catalog.Mention) string {
	var words []string
	for _, m := range parts {
		word := m.SKU
		if m.Count > 1 {
			word += fmt.Sprintf(" x %d", m.Count)
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}
