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

// together is a file with all the mutants that its functions have, each told where
// its code stands in it. The changes are of one file, in order.
func together(text string, changes []*change) string {
	var b strings.Builder
	from, moved := 0, make([]int, len(changes))
	for i := 0; i < len(changes); {
		c := changes[i]
		b.WriteString(text[from:c.head])
		from = c.head
		b.WriteString(" switch mutantAsked {")
		n := i
		for ; n < len(changes) && changes[n].head == c.head; n++ {
			m := changes[n]
			call := "func() " + m.results + " {" + text[m.head:m.start] + m.text + text[m.end:m.body] + "\n}()"
			if m.results == "" {
				call += "; return"
			} else {
				call = "return " + call
			}
			fmt.Fprintf(&b, "\ncase %d: %s", m.number, call)
		}
		b.WriteString("\n}\n")
		for ; i < n; i++ {
			moved[i] = b.Len() - from
		}
	}
	b.WriteString(text[from:])
	all := b.String()
	for i, c := range changes {
		c.at = placeOf(all, c.start+moved[i])
		c.first, c.last = placeOf(all, c.head+moved[i]-1), placeOf(all, c.body+moved[i])
	}
	return all
}

// combine writes the files with all mutants of functions into a copy of the module.
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
	for file, changes := range of {
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		slices.SortStableFunc(changes, func(x, y *change) int { return x.head - y.head })
		asks := fmt.Sprintf(switchFile, b.trees[changes[0].pkg][file].Name.Name)
		err = errors.Join(os.WriteFile(b.copied(file), []byte(together(string(text), changes)), 0o600),
			os.WriteFile(filepath.Join(filepath.Dir(b.copied(file)), "mutant_asked.go"), []byte(asks), 0o600))
		if err != nil {
			return err
		}
	}
	return nil
}

// copied is a file of the module in its copy.
func (b *bench) copied(file string) string {
	return filepath.Join(b.scratch, "module", strings.TrimPrefix(file, b.root))
}

// alone hands the compiler the file with one change in the place of the other.
func (b *bench) alone(c *change) (overlay string, err error) {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return "", err
	}
	file, overlay := filepath.Join(b.scratch, "alone.go"), filepath.Join(b.scratch, "alone.json")
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{b.copied(c.file): file}})
	return overlay, errors.Join(err, os.WriteFile(file, []byte(c.changed(string(text))), 0o600), os.WriteFile(overlay, replace, 0o600))
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
