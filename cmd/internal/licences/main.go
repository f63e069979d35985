// Command licences lists every module that the project is built from, with the
// licence that its files state, and fails if one states none that is known
// here: nobody should find out after a release that a part may not be passed on.
//
//	go run ./cmd/internal/licences
//
// It reads what the module cache holds already and needs no network. "program"
// is what the finished program contains, "tests" what only its tests use,
// "checks" what the static analysis adds.
//
// Limits: the licence of a module is that of the file at its root; a licence is
// told by sentences that only its text has, not by comparing all of it; what a
// module's own third-party files say is not read.
package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"

	"loudfor/cmd/internal/table"
)

func main() {
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// run writes the table; it is an error if a module has no licence known here.
func run(w io.Writer) error {
	modules, err := used()
	if err != nil {
		return err
	}
	var rows [][]string
	var unknown []string
	for _, m := range modules {
		name, err := licenceOf(os.DirFS(m.dir))
		if err != nil {
			unknown = append(unknown, fmt.Sprintf("%s: %v", m.path, err))
			name = "unknown"
		}
		rows = append(rows, []string{m.path, m.version, m.role, name})
	}
	columns := []table.Column{{Title: "module", Fill: true}, {Title: "version", Fill: true}, {Title: "in"}, {Title: "licence"}}
	if err := table.WriteIndented(w, table.Most, "", columns, rows); err != nil {
		return err
	}
	if len(unknown) > 0 {
		return fmt.Errorf("of %d modules, %d have no licence that is known here:\n%s", len(modules), len(unknown), strings.Join(unknown, "\n"))
	}
	return nil
}

// module is one that something of the project is built from.
type module struct{ path, version, dir, role string }

// roles are what is built, the most important first: a module has the first
// role in which it appears.
var roles = []struct {
	name string
	args []string
}{
	{"program", []string{"loudfor/cmd/loudfor"}},
	{"tests", []string{"-test", "loudfor/..."}},
	{"checks", []string{"tool"}},
}

// used asks the go command for the modules, sorted within each role.
func used() ([]module, error) {
	const format = "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}"
	var out []module
	seen := map[string]bool{}
	for _, role := range roles {
		cmd := exec.Command("go", append([]string{"list", "-deps", "-f", format}, role.args...)...)
		var said bytes.Buffer
		cmd.Stderr = &said
		text, err := cmd.Output()
		if err != nil {
			return nil, fmt.Errorf("%v: %w\n%s", cmd.Args, err, said.String())
		}
		for _, line := range sorted(strings.Split(string(text), "\n")) {
			fields := strings.Split(line, "\t")
			if len(fields) != 3 || seen[fields[0]] {
				continue
			}
			seen[fields[0]] = true
			out = append(out, module{fields[0], fields[1], fields[2], role.name})
		}
	}
	return out, nil
}
