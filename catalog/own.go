package catalog

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog/document"
)

// Who works in a folder of files of their own means these files, without a
// word. Which of them are parts, cars and briefs is told by their first keys.
// Only the folder itself is looked at, and the folder parts in it: whoever runs
// the program at the top of a disk does not ask for everything on it.

// Own is what a folder holds for a command that names no files, sorted by name.
type Own struct {
	Parts    []string // files, and the folder parts
	Vehicles []string
	Briefs   []string
}

// ownFolder is where the parts of a folder lie that has several lists.
const ownFolder = "parts"

// OwnFiles looks into a folder. What cannot be read there is nothing; named by
// the user it would be a mistake.
func OwnFiles(dir string) (own Own) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return own
	}
	for _, e := range entries {
		name := filepath.Join(dir, e.Name())
		if e.IsDir() && e.Name() == ownFolder && holdsParts(name) {
			own.Parts = append(own.Parts, name)
		}
		if e.IsDir() || strings.HasPrefix(e.Name(), ".") || !isYAML(e.Name()) {
			continue
		}
		file, problem := document.ReadFile(document.System{}, name, document.MostBytes)
		if problem != nil {
			continue
		}
		switch text := file.Text; {
		case hasTop(text, "readings"):
		case hasTop(text, "cap") && !hasTop(text, "parts"):
			own.Briefs = append(own.Briefs, name)
		case hasTop(text, "cap", "vehicle"): // a build
		case hasTop(text, "vehicles") && !hasTop(text, "parts"):
			own.Vehicles = append(own.Vehicles, name)
		case hasTop(text, "parts", "deals", "stores"):
			own.Parts = append(own.Parts, name)
		}
	}
	return own
}

func holdsParts(dir string) bool {
	var files []string
	walk(document.System{}, dir, 0, func(name string) { files = append(files, name) }, &Report{})
	return slices.ContainsFunc(files, func(name string) bool {
		file, problem := document.ReadFile(document.System{}, name, document.MostBytes)
		return problem == nil && hasTop(file.Text, "parts") && !isOther(file)
	})
}
