package inputs

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/demo"
)

// A command that takes a brief as well as a build has to know which of the two
// a name stands for: a build is a brief with its parts chosen, so the key
// "parts" tells. What cannot be read at all is left to the reader of briefs,
// whose messages say what is wrong.

// BuildOrBrief puts the name of a build or a brief where it belongs in the
// request.
func (r *Request) BuildOrBrief(name string) error {
	content, err := r.peek(name)
	if err != nil {
		return err
	}
	var keys map[string]yaml.Node
	if yaml.Unmarshal(content, &keys) == nil {
		if _, chosen := keys["parts"]; chosen {
			r.Build = name
			return nil
		}
	}
	r.Brief = name
	return nil
}

// peek reads what a name stands for; standard input can be read again. A file
// that cannot be read has no content here: its reader complains.
func (r *Request) peek(name string) ([]byte, error) {
	switch inDemo, isDemo := strings.CutPrefix(name, demoPrefix); {
	case name == "":
		return nil, nil
	case isDemo:
		file := strings.TrimSuffix(inDemo, ".yaml") + ".yaml"
		for _, folder := range []string{DemoBriefs, DemoBuilds} {
			if content, err := fs.ReadFile(demo.FS, path.Join(folder, file)); err == nil {
				return content, nil
			}
		}
		return nil, UsageError{fmt.Sprintf("the demo has no %q; it has the briefs %s and the builds %s", inDemo, DemoNames(DemoBriefs), DemoNames(DemoBuilds))}
	case name == "-":
		content, err := io.ReadAll(io.LimitReader(r.Stdin, mostPeeked))
		if err != nil {
			return nil, fmt.Errorf("standard input cannot be read: %w", err)
		}
		r.Stdin = io.MultiReader(bytes.NewReader(content), r.Stdin)
		return content, nil
	}
	info, err := os.Stat(name)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostPeeked {
		return nil, nil
	}
	content, err := os.ReadFile(name)
	if err != nil {
		return nil, nil
	}
	return content, nil
}

// mostPeeked, bytes, is more than any brief or build; what is larger is refused
// by its reader.
const mostPeeked = 1 << 20
