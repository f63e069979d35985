package catalog

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog/document"
)

// found is a file to read; named tells that the user named it himself.
type found struct {
	path  string
	named bool
}

// find lists the files under paths, sorted by name, each once.
func find(fsys fs.FS, paths []string, what string, report *Report) []found {
	seen := map[string]int{}
	var out []found
	add := func(name string, named bool) {
		id := identity(fsys, name)
		if i, ok := seen[id]; ok {
			out[i].named = out[i].named || named
			return
		}
		seen[id] = len(out)
		out = append(out, found{name, named})
	}
	if len(paths) == 0 {
		report.Add(Problem{Summary: "no file of " + what + " is named", Detail: "name a YAML file or a folder that holds some"})
	}
	for _, p := range paths {
		info, err := fs.Stat(fsys, p)
		if err != nil || !info.IsDir() {
			add(p, true) // reading it says what is wrong
			continue
		}
		before := len(out)
		problems := len(report.Problems)
		walk(fsys, p, 0, func(name string) { add(name, false) }, report)
		if len(out) == before && len(report.Problems) == problems && !holdsSeen(fsys, p, seen) {
			report.Add(Problem{Summary: "the folder holds no YAML file", Detail: "put files of " + what + " named *.yaml or *.yml in it, or name another folder", Where: Position{File: p}})
		}
	}
	slices.SortStableFunc(out, func(a, b found) int { return strings.Compare(a.path, b.path) })
	return out
}

// holdsSeen tells whether all that a folder holds was named before.
func holdsSeen(fsys fs.FS, dir string, seen map[string]int) bool {
	any := false
	walk(fsys, dir, 0, func(name string) {
		_, ok := seen[identity(fsys, name)]
		any = any || ok
	}, &Report{})
	return any
}

// deepest is how far folders are followed: a guard against loops of links.
const deepest = 32

// walk visits the YAML files of a folder and its folders in order of name.
// Hidden ones are left out: editors and version control keep copies there.
func walk(fsys fs.FS, dir string, depth int, visit func(name string), report *Report) {
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		why := "the folder cannot be read"
		if errors.Is(err, fs.ErrPermission) {
			why = "the folder may not be read"
		}
		report.Add(Problem{Summary: why, Detail: "give yourself the right to read it, or name another one", Where: Position{File: dir}})
		return
	}
	for _, e := range entries {
		name := join(fsys, dir, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), "."):
		case e.IsDir():
			if depth < deepest {
				walk(fsys, name, depth+1, visit, report)
			}
		case isYAML(e.Name()):
			visit(name)
		}
	}
}

func isYAML(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return ext == ".yaml" || ext == ".yml"
}

func join(fsys fs.FS, dir, name string) string {
	if _, ok := fsys.(document.System); ok {
		return filepath.Join(dir, name)
	}
	return path.Join(dir, name)
}

// identity is equal for two names of one file.
func identity(fsys fs.FS, name string) string {
	if _, ok := fsys.(document.System); !ok {
		return path.Clean(name)
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	if abs, err := filepath.Abs(name); err == nil {
		name = abs
	}
	return name
}

// hasTop tells whether a line of the text starts with one of some keys, which
// tells what a file is. A build has parts as well, but a list of parts has no
// vehicle. Files of megabytes are looked at, so no regular expression does it.
func hasTop(text []byte, keys ...string) bool {
	for {
		for _, key := range keys {
			if startsWith(text, key) {
				return true
			}
		}
		end := bytes.IndexByte(text, '\n')
		if end < 0 {
			return false
		}
		text = text[end+1:]
	}
}

// startsWith tells whether the text starts with a key, perhaps in quotes, and
// its colon.
func startsWith(text []byte, key string) bool {
	quote := func() {
		if len(text) > 0 && (text[0] == '"' || text[0] == '\'') {
			text = text[1:]
		}
	}
	quote()
	if !bytes.HasPrefix(text, []byte(key)) {
		return false
	}
	text = text[len(key):]
	quote()
	text = bytes.TrimLeft(text, " \t")
	return len(text) > 0 && text[0] == ':'
}

// isOther tells whether a file that was found in a folder is plainly of
// another sort than a list of parts, so that parts, vehicles, briefs, builds,
// readings and the shop's settings can lie side by side.
func isOther(f *document.File) bool {
	return hasTop(f.Text, "cap", "vehicle", "readings", "shop", "catalogues") || hasTop(f.Text, "vehicles") && !hasTop(f.Text, "parts")
}
