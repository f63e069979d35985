package layout

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
)

// module is the path under which the project's packages are imported.
const module = "loudfor"

// layers are the top-level folders with Go code, each allowed to import those
// to its left (and itself), never to its right. Keeping the arrows one way is
// what lets model be tested without files and optimizer without a terminal.
var layers = []string{"model", "catalog", "optimizer", "cmd"}

// inside says, for the packages of the optimizer that are not to know all of
// it, which others of it each may import. What is not in the table may import
// what it likes of the layer; what is in it may not import the optimizer's own
// page, from where all of it can be reached. The recheck above all: that it
// knows nothing of the search is what makes it a second opinion.
var inside = map[string][]string{
	"optimizer/memo":          {},
	"optimizer/linear":        {},
	"optimizer/build":         {"optimizer/memo"},
	"optimizer/verify":        {"optimizer/build"},
	"optimizer/audit":         {"optimizer/build", "optimizer/verify"},
	"optimizer/setting":       {"optimizer/build", "optimizer/memo"},
	"optimizer/pricing":       {"optimizer/build", "optimizer/setting"},
	"optimizer/internal/halt": {"optimizer/build"},
	"optimizer/drive":         {"optimizer/build", "optimizer/memo", "optimizer/pricing", "optimizer/setting", "optimizer/internal/halt"},
	"optimizer/completion": {
		"optimizer/build", "optimizer/memo", "optimizer/pricing", "optimizer/drive", "optimizer/internal/halt",
	},
	"optimizer/program": {
		"optimizer/build", "optimizer/pricing", "optimizer/setting", "optimizer/drive", "optimizer/completion", "optimizer/linear",
	},
	"optimizer/uncertainty": {"optimizer/build", "optimizer/setting"},
}

// otherFolders may stand beside the layers. Folders whose name starts with a
// dot belong to tools (git, the build check, editors) and are not looked at.
var otherFolders = []string{"testdata"}

// pureLayers compute and do nothing else: the same arguments give the same
// answer on every machine, on every day.
var pureLayers = []string{"model", "optimizer"}

// impureImports are standard packages that reach outside the program. The
// whole tree below each is meant. io is in it although io.Writer alone does no
// harm: a package that returns text is easier to test than one that writes it.
var impureImports = []string{
	"bufio", "embed", "io", "log", "net", "os", "plugin", "syscall", "testing", "unsafe",
}

// impureNames are the functions of otherwise harmless packages that print,
// read the clock, or draw from a generator nobody seeded. A name ending in *
// stands for all that start so.
var impureNames = map[string][]string{
	"fmt":  {"Print*", "Scan*"},
	"time": {"Now", "Since", "Until", "Sleep", "After*", "Tick", "NewTimer", "NewTicker"},
	"math/rand": {
		"Float*", "ExpFloat64", "NormFloat64", "Int*", "Uint*", "Perm", "Read", "Seed", "Shuffle",
	},
	"math/rand/v2": {
		"Float*", "ExpFloat64", "NormFloat64", "Int*", "Uint*", "Perm", "N", "Shuffle",
	},
}

// breaches reads every Go file below root and says, sorted by file and line,
// what breaks the rules above. The error is for files that do not parse.
func breaches(root fs.FS) ([]string, error) {
	var found []string
	entries, err := fs.ReadDir(root, ".")
	if err != nil {
		return nil, err
	}
	for _, entry := range entries {
		name := entry.Name()
		if entry.IsDir() && !strings.HasPrefix(name, ".") &&
			!slices.Contains(layers, name) && !slices.Contains(otherFolders, name) {
			found = append(found, fmt.Sprintf("%s: unknown top-level folder (known: %s)",
				name, strings.Join(slices.Concat(layers, otherFolders), ", ")))
		}
	}
	err = fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && name != "." && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "testdata"):
			return fs.SkipDir
		case entry.IsDir() || !strings.HasSuffix(name, ".go"):
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, name, text, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		found = append(found, fileBreaches(set, name, file)...)
		return nil
	})
	return found, err
}

// fileBreaches judges one file; name is its path from the module's root.
func fileBreaches(set *token.FileSet, name string, file *ast.File) []string {
	var found []string
	complain := func(at token.Pos, format string, args ...any) {
		position := set.Position(at)
		found = append(found, fmt.Sprintf("%s:%d: ", name, position.Line)+fmt.Sprintf(format, args...))
	}
	folder, _, nested := strings.Cut(name, "/")
	layer := slices.Index(layers, folder)
	if !nested || layer < 0 {
		complain(file.Package, "Go code outside %s", strings.Join(layers, ", "))
		return found
	}
	// A test may read its golden files; only what ships has to be pure.
	pure := slices.Contains(pureLayers, folder) && !strings.HasSuffix(name, "_test.go")

	local := map[string]string{} // how the file calls a package -> its import path
	for _, spec := range file.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			complain(spec.Pos(), "unreadable import %s", spec.Path.Value)
			continue
		}
		called := packageName(imported)
		if spec.Name != nil {
			called = spec.Name.Name
		}
		local[called] = imported

		if ours, rest := isOurs(imported); ours {
			target, _, _ := strings.Cut(rest, "/")
			switch at := slices.Index(layers, target); {
			case at < 0:
				complain(spec.Pos(), "imports %s, which is in no layer", imported)
			case at > layer:
				complain(spec.Pos(), "%s imports %s: imports point one way, cmd -> optimizer -> catalog -> model",
					folder, imported)
			}
			if may, listed := inside[path.Dir(name)]; listed && target == folder && rest != path.Dir(name) &&
				!slices.Contains(may, rest) && !strings.HasSuffix(name, "_test.go") {
				complain(spec.Pos(), "%s may not import %s: of the optimizer it may know %s", path.Dir(name), imported, known(may))
			}
			if forTests(rest) && !forTests(name) && !strings.HasSuffix(name, "_test.go") {
				complain(spec.Pos(), "%s is for tests, and no test imports it here", imported)
			}
			continue
		}
		if !pure {
			continue
		}
		top, _, _ := strings.Cut(imported, "/")
		if slices.Contains(impureImports, top) {
			complain(spec.Pos(), "%s is pure and may not import %s", folder, imported)
		}
		if _, named := impureNames[imported]; named && called == "." {
			complain(spec.Pos(), "%s may not import %s with a dot: its calls could not be checked", folder, imported)
		}
	}
	if !pure {
		return found
	}
	ast.Inspect(file, func(node ast.Node) bool {
		selector, ok := node.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if called, ok := selector.X.(*ast.Ident); ok {
			imported := local[called.Name]
			if matches(impureNames[imported], selector.Sel.Name) {
				complain(selector.Pos(), "%s is pure and may not use %s.%s", folder, imported, selector.Sel.Name)
			}
		}
		return true
	})
	return found
}

// known lists packages in words.
func known(packages []string) string {
	if len(packages) == 0 {
		return "nothing"
	}
	return strings.Join(packages, ", ")
}

// forTests tells whether a file or a package lies below a folder called testing.
func forTests(name string) bool { return strings.Contains("/"+name+"/", "/testing/") }

// isOurs tells whether an import path is the project's, and its path inside.
func isOurs(imported string) (bool, string) {
	rest, ours := strings.CutPrefix(imported, module+"/")
	return ours || imported == module, rest
}

// packageName guesses the name under which an import without an explicit one
// is used: the last element, or the one before a major version.
func packageName(imported string) string {
	base := path.Base(imported)
	if len(base) > 1 && base[0] == 'v' && strings.Trim(base[1:], "0123456789") == "" {
		return path.Base(path.Dir(imported))
	}
	return base
}

// matches tells whether one of the patterns means the name.
func matches(patterns []string, name string) bool {
	return slices.ContainsFunc(patterns, func(pattern string) bool {
		if start, ok := strings.CutSuffix(pattern, "*"); ok {
			return strings.HasPrefix(name, start)
		}
		return pattern == name
	})
}
