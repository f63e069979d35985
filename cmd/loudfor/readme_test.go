package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
	"loudfor/catalog/readings"
)

const readme = "../../README.md"

var (
	workedOutput = regexp.MustCompile("(?s)```console\n\\$ loudfor ([^\n]*)\n(.*?)```")
	yamlBlock    = regexp.MustCompile("(?s)```yaml\n(.*?)```")
)

// pagesShown are the README and the topics of help, by their files.
func pagesShown(t *testing.T) []string {
	t.Helper()
	topics, err := filepath.Glob("../internal/manual/topics/*.md")
	if err != nil || len(topics) < 10 {
		t.Fatalf("%d topics, %v", len(topics), err)
	}
	var all []string
	for _, name := range append(topics, readme) {
		full, err := filepath.Abs(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, full)
	}
	return all
}

// Each worked output of the README and of the topics is run and compared, those
// of one page in one folder that is empty at first. A line of three dots stands
// for lines left out. UPDATE=1 writes the new output into the file.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	if testing.Short() {
		t.Skip("the scripts run the same commands")
	}
	for _, name := range pagesShown(t) {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".md"), func(t *testing.T) {
			t.Chdir(t.TempDir())
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			updated := workedOutput.ReplaceAllFunc(text, func(block []byte) []byte {
				match := workedOutput.FindSubmatch(block)
				got := call(words(string(match[1]))...)
				if got.status != statusDone && got.status != statusNoBuild && got.status != statusChanged {
					t.Errorf("loudfor %s exits with %d\n%s", match[1], got.status, got.stderr)
					return block
				}
				body, ok := excerpt(string(match[2]), got.stdout)
				if !ok {
					t.Errorf("loudfor %s: the lines of the page are not in the output\n%s", match[1], got.stdout)
					return block
				}
				return []byte("```console\n$ loudfor " + string(match[1]) + "\n" + body + "```")
			})
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(name, updated, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(strings.Split(string(text), "\n"), strings.Split(string(updated), "\n")); diff != "" {
				t.Errorf("%s (-shown +printed); UPDATE=1 mends it:\n%s", name, diff)
			}
		})
	}
}

// words parts a command line as a shell does, with double quotes only.
func words(line string) (out []string) {
	for i, piece := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, piece)
		} else {
			out = append(out, strings.Fields(piece)...)
		}
	}
	return out
}

// Every command and every topic that the README and the pages name is one, and
// the README is short enough to be read.
func TestReadmeNamesWhatThereIs(t *testing.T) {
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(text), "\n"); n > 200 {
		t.Errorf("the README has %d lines", n)
	}
	if strings.Count(string(text), "```console\n$ loudfor") < 3 {
		t.Error("the README shows too little")
	}
	named := regexp.MustCompile("`loudfor (?:help )?([a-z]+)")
	root := rootCommand(&console{})
	for _, name := range pagesShown(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			if m[1] == "help" || m[1] == "completion" {
				continue // of the library that reads command lines
			}
			if c, _, err := root.Find([]string{m[1]}); err != nil || c == root {
				t.Errorf("%s: there is no %q", filepath.Base(name), m[0])
			}
		}
	}
}

// excerpt takes from an output the stretches that a block shows. A stretch is
// found by its first line, up to the first figure in it, and keeps its number
// of paragraphs: their lengths may change with the figures.
func excerpt(shown, output string) (string, bool) {
	if !strings.Contains("\n"+shown, "\n...\n") {
		return output, true // the block shows all of it
	}
	lines := strings.Split(strings.TrimSuffix(output, "\n"), "\n")
	var out []string
	at := 0
	for i, stretch := range strings.Split("\n"+shown, "\n...\n") {
		if i > 0 {
			out = append(out, "...")
		}
		stretch = strings.Trim(stretch, "\n")
		if stretch == "" {
			continue
		}
		wanted := strings.Split(stretch, "\n")
		start := wanted[0][:len(wanted[0])-len(strings.TrimLeftFunc(wanted[0], func(r rune) bool { return r < '0' || r > '9' }))]
		found := slices.IndexFunc(lines[at:], func(line string) bool { return strings.HasPrefix(line, start) })
		if found < 0 {
			return "", false
		}
		at += found
		end := at
		for paragraphs := strings.Count(stretch, "\n\n") + 1; end < len(lines); end++ {
			if lines[end] == "" {
				if paragraphs--; paragraphs == 0 {
					break
				}
			}
		}
		out = append(out, lines[at:end]...)
		at = end
	}
	return strings.Join(out, "\n") + "\n", true
}

func TestExcerpt(t *testing.T) {
	output := "head 1\na\n\nb\n\nHookup\nx\n\ny\nend\n"
	for _, c := range []struct{ shown, want string }{
		{"anything at all\n", output},
		{"head 9\n...\n", "head 1\na\n...\n"},
		{"head 9\n?\n\n?\n...\n", "head 1\na\n\nb\n...\n"},
		{"...\nHookup\n?\n...\n", "...\nHookup\nx\n...\n"},
		{"head 1\n...\nHookup\n?\n\n?\n...\n", "head 1\na\n...\nHookup\nx\n\ny\nend\n...\n"},
	} {
		if got, ok := excerpt(c.shown, output); !ok || got != c.want {
			t.Errorf("%q: got %q, want %q", c.shown, got, c.want)
		}
	}
	if _, ok := excerpt("...\nnot there\n...\n", output); ok {
		t.Error("a stretch that is not there was found")
	}
}

// The YAML of the README and the topics is read by the program as it stands.
func TestReadmeFilesCanBeRead(t *testing.T) {
	var blocks [][][]byte
	for _, name := range pagesShown(t) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		blocks = append(blocks, yamlBlock.FindAllSubmatch(text, -1)...)
	}
	if len(blocks) < 8 {
		t.Fatalf("%d files found", len(blocks))
	}
	name := filepath.Join(t.TempDir(), "file.yaml")
	shelf := filepath.Join(t.TempDir(), "parts.yaml") // the catalogue shown last
	for _, block := range blocks {
		if err := os.WriteFile(name, block[1], 0o600); err != nil {
			t.Fatal(err)
		}
		var report *catalog.Report
		switch content := string(block[1]); {
		case strings.HasPrefix(content, "parts:"):
			_, report = catalog.Load([]string{name})
			if err := os.WriteFile(shelf, block[1], 0o600); err != nil {
				t.Fatal(err)
			}
		case strings.HasPrefix(content, "deals:"):
			_, report = catalog.Load([]string{shelf, name})
		case strings.HasPrefix(content, "vehicles:"):
			_, report = catalog.LoadVehicles(name)
		case strings.Contains(content, "\nreadings:"):
			_, report = readings.Load(name)
		case strings.Contains(content, "\nparts:"):
			_, report = catalog.LoadBuild(name)
		default:
			_, report = catalog.LoadBrief(name)
		}
		if err := report.Err(); err != nil {
			t.Errorf("%v in\n%s", err, block[1])
		}
	}
}
