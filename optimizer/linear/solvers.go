package linear

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// How each solver is called and how its answer is read. All are asked for the
// optimum without a gap; cbc also that objectives are whole, so that what is
// less than one better is not better (lp_solve takes such a gap for leave to stop
// at what is worse by more). The answer is the values of the variables, never the printed
// objective, which is rounded.

// wholeGap is just below the least difference of two whole objectives.
const wholeGap = "0.9"

// Status is what a solver says of a program.
type Status int

const (
	Stopped    Status = iota // no proof: a time limit, or trouble
	Optimal                  // solved, and proved
	Infeasible               // proved that there is no solution
)

func (s Status) String() string { return [...]string{"stopped", "optimal", "infeasible"}[s] }

// Answer is what a solver gave.
type Answer struct {
	Status Status
	Values map[string]float64 // by name; what is left out is zero
}

// Solver is an outside program.
type Solver struct {
	Name    string   // of the executable
	Package string   // of Debian, that holds it
	Dialect Dialect  // that it reads
	Version []string // arguments that make it tell its version
	// Arguments call it on the file with the program, with another file for the
	// solution, and a limit of time.
	Arguments func(program, solution string, limit time.Duration) []string
	// Read reads the answer in standard output and the solution's file.
	Read func(output, solution string) (Answer, error)
}

// Solvers lists the known ones, in the order in which they are asked.
func Solvers() []Solver {
	return []Solver{
		{
			Name: "lp_solve", Package: "lp-solve", Dialect: Statements, Version: []string{"-h"},
			Arguments: func(program, _ string, limit time.Duration) []string {
				return []string{"-S3", "-e", "1e-9", "-g", "0", "-timeout", seconds(limit), program}
			},
			Read: readStatements,
		},
		{
			Name: "glpsol", Package: "glpk-utils", Dialect: Sections, Version: []string{"--version"},
			// All its cuts but covers: where preparing leaves a row without a variable,
			// version 5.0 aborts on these.
			Arguments: func(program, solution string, limit time.Duration) []string {
				return []string{"--lp", program, "--mipgap", "0", "--gomory", "--mir", "--clique", "--tmlim", seconds(limit), "-o", solution}
			},
			Read: readTable,
		},
		{
			Name: "cbc", Package: "coinor-cbc", Dialect: Sections, Version: []string{"-stop"},
			Arguments: func(program, solution string, limit time.Duration) []string {
				return []string{program, "-ratioGap", "0", "-allowableGap", wholeGap, "-integerTolerance", "1e-9",
					"-seconds", seconds(limit), "-solve", "-solution", solution}
			},
			Read: readList,
		},
	}
}

var versionNumber = regexp.MustCompile(`(?i)(?:version:?|solver) v?([0-9]+(?:\.[0-9]+)+)`)

// VersionIn finds the version in what a solver tells of itself; empty if it
// does not say.
func VersionIn(output string) string {
	if m := versionNumber.FindStringSubmatch(output); m != nil {
		return m[1]
	}
	return ""
}

func seconds(d time.Duration) string {
	return strconv.Itoa(max(1, int(d.Round(time.Second).Seconds())))
}

// lines gives the lines of a text, whatever their ends.
func lines(text string) []string {
	all := strings.Split(text, "\n")
	for i := range all {
		all[i] = strings.TrimRight(all[i], "\r ")
	}
	return all
}

func number(text string) (float64, error) {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no number", text)
	}
	return x, nil
}

// readStatements reads lp_solve's report: a line per variable between two
// headings.
func readStatements(output, _ string) (Answer, error) {
	a := Answer{Values: map[string]float64{}}
	inside := false
	for _, line := range lines(output) {
		fields := strings.Fields(line)
		switch {
		case strings.Contains(line, "problem is infeasible"):
			return Answer{Status: Infeasible}, nil
		case strings.Contains(line, "sub-optimal"):
			return Answer{}, nil
		case strings.HasPrefix(line, "Actual values of the variables"):
			a.Status, inside = Optimal, true
		case strings.HasPrefix(line, "Actual values of the constraints"):
			inside = false
		case inside && len(fields) == 2:
			x, err := number(fields[1])
			if err != nil {
				return Answer{}, err
			}
			a.Values[fields[0]] = x
		}
	}
	return a, nil
}

// readTable reads glpsol's report: a status line, and tables of rows and
// columns, in which a line has number, name, perhaps a star, and the activity;
// after a long name the line is broken.
func readTable(output, solution string) (Answer, error) {
	a := Answer{Values: map[string]float64{}}
	if strings.Contains(output, "PROBLEM HAS NO PRIMAL FEASIBLE SOLUTION") || strings.Contains(output, "PROBLEM HAS NO INTEGER FEASIBLE SOLUTION") {
		return Answer{Status: Infeasible}, nil
	}
	inside, name := false, ""
	for _, line := range lines(solution) {
		fields := strings.Fields(line)
		switch {
		case strings.HasPrefix(line, "Status:"):
			switch strings.Join(fields[1:], " ") {
			case "INTEGER OPTIMAL":
				a.Status = Optimal
			case "INTEGER EMPTY", "INFEASIBLE (FINAL)":
				return Answer{Status: Infeasible}, nil
			default:
				return Answer{}, nil
			}
		case strings.Contains(line, "Column name"):
			inside = true
		case inside && (len(fields) == 0 || strings.HasPrefix(line, "--")):
			inside = len(a.Values) == 0 && name == ""
		case inside:
			if name == "" && len(fields) >= 2 {
				name, fields = fields[1], fields[2:]
			}
			if len(fields) > 0 && fields[0] == "*" {
				fields = fields[1:]
			}
			if len(fields) == 0 {
				continue
			}
			x, err := number(fields[0])
			if err != nil {
				return Answer{}, err
			}
			a.Values[name], name = x, ""
		}
	}
	return a, nil
}

// readList reads cbc's solution: a status line, then number, name, value and
// reduced cost of what is not zero. Two stars mark what is out of bounds.
func readList(output, solution string) (Answer, error) {
	a := Answer{Values: map[string]float64{}}
	for i, line := range lines(solution) {
		if i == 0 {
			switch {
			case strings.HasPrefix(line, "Optimal"):
				a.Status = Optimal
			case strings.HasPrefix(line, "Infeasible"), strings.HasPrefix(line, "Integer infeasible"):
				return Answer{Status: Infeasible}, nil
			default:
				return Answer{}, nil
			}
			continue
		}
		fields := strings.Fields(strings.TrimPrefix(strings.TrimSpace(line), "**"))
		if len(fields) < 3 {
			continue
		}
		x, err := number(fields[2])
		if err != nil {
			return Answer{}, err
		}
		a.Values[fields[1]] = x
	}
	if strings.Contains(output, "proven infeasible") || strings.Contains(output, "Problem is infeasible") {
		return Answer{Status: Infeasible}, nil
	}
	return a, nil
}
