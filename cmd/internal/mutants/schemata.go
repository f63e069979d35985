package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// All mutants in one program: a function that has mutants begins with a switch to
// its changed bodies, each a function literal that sees the same parameters and has
// results of its own. The environment says which of them counts, so that the tests
// of a package are built once for all its mutants. A declaration outside functions
// cannot be switched while the program runs: such a mutant is built alone.

const asked = "LOUDFOR_MUTANT" // holds the number of a mutant

const switchFile = `package %s

import (
	"os"
	"strconv"
)

var mutantAsked, _ = strconv.Atoi(os.Getenv("` + asked + `"))
`

// changed is the file with the change made.
func (c change) changed(text string) string { return text[:c.start] + c.text + text[c.end:] }

// together is a file with all the mutants that its functions have. The changes are of
// one file, in order.
func together(text string, changes []*change) string {
	var b strings.Builder
	from := 0
	for i, c := range changes {
		if i == 0 || changes[i-1].head != c.head {
			b.WriteString(text[from:c.head] + " switch mutantAsked {")
			from = c.head
		}
		call := "func() " + c.results + " {" + text[c.head:c.start] + c.text + text[c.end:c.body] + "\n}()"
		if c.results == "" {
			call += "; return"
		} else {
			call = "return " + call
		}
		fmt.Fprintf(&b, "\ncase %d: %s", c.number, call)
		if i == len(changes)-1 || changes[i+1].head != c.head {
			b.WriteString("\n}\n")
		}
	}
	b.WriteString(text[from:])
	return b.String()
}

// combine copies the module, and lays over it the files with all mutants of functions:
// what the tests read of the code is the code.
func (b *bench) combine(drawn []*change) error {
	if err := os.CopyFS(b.copied(b.root), os.DirFS(b.root)); err != nil {
		return err
	}
	of := map[string][]*change{}
	for _, c := range drawn {
		if c.head > 0 {
			of[c.file] = append(of[c.file], c)
		}
	}
	files := map[string]string{}
	for file, changes := range of {
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		slices.SortStableFunc(changes, func(x, y *change) int { return x.head - y.head })
		files[file] = together(string(text), changes)
		files[filepath.Join(filepath.Dir(file), "mutant_asked.go")] = fmt.Sprintf(switchFile, b.trees[changes[0].pkg][file].Name.Name)
	}
	return b.overlay("all", files)
}

// overlay writes files, and hands them to the compiler in the place of those of the copy.
func (b *bench) overlay(name string, files map[string]string) error {
	replace := map[string]string{}
	for file, text := range files {
		put := filepath.Join(b.scratch, fmt.Sprintf("%s%d.go", name, len(replace)))
		if err := os.WriteFile(put, []byte(text), 0o600); err != nil {
			return err
		}
		replace[b.copied(file)] = put
	}
	list, err := json.Marshal(map[string]any{"Replace": replace})
	return errors.Join(err, os.WriteFile(b.laid(name), list, 0o600))
}

// laid is the list of an overlay.
func (b *bench) laid(name string) string { return filepath.Join(b.scratch, name+".json") }

// copied is a file of the module in its copy.
func (b *bench) copied(file string) string {
	return filepath.Join(b.scratch, "module", strings.TrimPrefix(file, b.root))
}

// alone lays the file with one change over the copy.
func (b *bench) alone(c *change) error {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return err
	}
	return b.overlay("alone", map[string]string{c.file: c.changed(string(text))})
}

// checker tells what compiles, without a compiler.
type checker struct {
	set   *token.FileSet
	types types.Config
	trees map[string]map[string]*ast.File // by package and file
}

func newChecker(packages []listed) (*checker, error) {
	args := []string{"list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Export}}"}
	c := &checker{set: token.NewFileSet(), trees: map[string]map[string]*ast.File{}}
	for _, p := range packages {
		args = append(args, p.ImportPath)
		files := map[string]*ast.File{}
		for _, name := range p.GoFiles {
			file := filepath.Join(p.Dir, name)
			tree, err := parser.ParseFile(c.set, file, nil, parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			files[file] = tree
		}
		c.trees[p.ImportPath] = files
	}
	out, err := exec.Command("go", args...).Output()
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	for line := range strings.Lines(string(out)) {
		path, file, _ := strings.Cut(strings.TrimSpace(line), "\t")
		exports[path] = file
	}
	c.types.Importer = importer.ForCompiler(c.set, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	return c, nil
}

// compiles tells whether the package with a change does.
func (k *checker) compiles(c change) (bool, error) {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return false, err
	}
	tree, err := parser.ParseFile(k.set, c.file, c.changed(string(text)), parser.SkipObjectResolution)
	if err != nil {
		return false, nil
	}
	files := []*ast.File{tree}
	for file, tree := range k.trees[c.pkg] {
		if file != c.file {
			files = append(files, tree)
		}
	}
	_, err = k.types.Check(c.pkg, k.set, files, nil)
	return err == nil, nil
}
