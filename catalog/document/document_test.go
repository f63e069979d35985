package document

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"go.yaml.in/yaml/v3"
)

// The encodings and sizes that are refused before YAML is looked at.
func TestReadFileRefuses(t *testing.T) {
	const most = 1000
	files := fstest.MapFS{
		"utf16.yaml":  {Data: []byte("\xff\xfep\x00a\x00")},
		"binary.yaml": {Data: []byte("parts:\n  - \x00\x01\x02")},
		"latin.yaml":  {Data: []byte("parts:\n  - sku: caf\xe9\n")},
		"folder":      {Mode: fs.ModeDir},
		"pipe":        {Mode: fs.ModeNamedPipe},
		"large.yaml":  {Data: bytes.Repeat([]byte{'#'}, most+1)},
		"fits.yaml":   {Data: bytes.Repeat([]byte{'#'}, most)},
		"bom.yaml":    {Data: []byte("\ufeffparts: []\n")},
	}
	for _, c := range []struct {
		name, summary, where string
	}{
		{"utf16.yaml", "UTF-16", "utf16.yaml"},
		{"binary.yaml", "binary", "binary.yaml:2:5"},
		{"latin.yaml", "0xe9 is not UTF-8", "latin.yaml:2:13"},
		{"folder", "not a regular file", "folder"},
		{"pipe", "not a regular file", "pipe"},
		{"large.yaml", "more than the", "large.yaml"},
		{"none.yaml", "no such file", "none.yaml"},
	} {
		_, p := ReadFile(files, c.name, most)
		switch {
		case p == nil:
			t.Errorf("%s was read", c.name)
		case !strings.Contains(p.Summary, c.summary) || p.Where.String() != c.where || p.Detail == "":
			t.Errorf("%s: %v: %s = %s", c.name, p.Where, p.Summary, p.Detail)
		}
	}
	for _, name := range []string{"fits.yaml", "bom.yaml"} {
		f, p := ReadFile(files, name, most)
		if p != nil {
			t.Errorf("%s: %s", name, p.Summary)
		} else if bytes.HasPrefix(f.Text, []byte("\ufeff")) {
			t.Errorf("%s keeps its byte order mark", name)
		}
	}
}

// A file of 2 GB is refused by its size alone: nothing of it is read.
func TestHugeFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "huge.yaml")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Truncate(2 << 30); err != nil { // sparse: takes no space
		t.Skipf("no sparse files here: %v", err)
	}
	f.Close()
	_, p := ReadFile(unreadable{os.DirFS(filepath.Dir(name)), t}, "huge.yaml", MostBytes)
	if p == nil || !strings.Contains(p.Summary, "2048.0 MB") {
		t.Errorf("2 GB: %+v", p)
	}
}

// unreadable are files that may be asked for their size only.
type unreadable struct {
	fs.FS
	t *testing.T
}

func (u unreadable) Open(name string) (fs.File, error) {
	f, err := u.FS.Open(name)
	return sealed{f, u.t}, err
}

type sealed struct {
	fs.File
	t *testing.T
}

func (s sealed) Read([]byte) (int, error) {
	s.t.Error("it is read")
	return 0, io.EOF
}

func TestUnreadableFile(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may read everything")
	}
	name := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(name, []byte("parts: []"), 0); err != nil {
		t.Fatal(err)
	}
	if _, p := ReadFile(os.DirFS(filepath.Dir(name)), "secret.yaml", MostBytes); p == nil || !strings.Contains(p.Summary, "may not be read") {
		t.Errorf("%+v", p)
	}
}

func TestLines(t *testing.T) {
	f := &File{Name: "a", Text: []byte("one\ntwo\r\nthrée\rfour")}
	for n, want := range map[int]string{0: "", 1: "one", 2: "two", 3: "thrée", 4: "four", 5: ""} {
		if got := f.Line(n); got != want {
			t.Errorf("line %d is %q, want %q", n, got, want)
		}
	}
	if at := f.at(bytes.Index(f.Text, []byte("ée")) + len("é")); at.Line != 3 || at.Column != 5 {
		t.Errorf("position %v, want line 3, column 5", at)
	}
	if f.Lines() != 4 {
		t.Errorf("%d lines", f.Lines())
	}
}

func parseText(text string) (*Reader, *yaml.Node) {
	return Parse(&File{Name: "a.yaml", Text: []byte(text)})
}

// Nine lists of nine aliases each stand for 9^9 values.
func TestAliasBomb(t *testing.T) {
	var b strings.Builder
	b.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x]\n")
	for i := 1; i < 9; i++ {
		fmt.Fprintf(&b, "a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), ", "))
	}
	b.WriteString("parts: *a8\n")
	before := allocated()
	r, root := parseText(b.String())
	found, _ := r.Problems()
	if root != nil || len(found) != 1 || !strings.Contains(found[0].Summary, "stand for more than") {
		t.Errorf("root %v, %+v", root, found)
	}
	if took := allocated() - before; took > 1<<20 {
		t.Errorf("took %d bytes for a text of %d", took, b.Len())
	}
}

// allocated is all memory that was ever asked for, in bytes: unlike a time, the
// other work of the machine does not change it.
func allocated() uint64 {
	var s runtime.MemStats
	runtime.ReadMemStats(&s)
	return s.TotalAlloc
}

// Just below and just above the number of values that aliases may stand for.
func TestAliasLimit(t *testing.T) {
	text := func(n int) string {
		return "a: &a [" + strings.TrimSuffix(strings.Repeat("x, ", 999), ", ") + "]\nb: [" + strings.TrimSuffix(strings.Repeat("*a, ", n), ", ") + "]\n"
	}
	// Each alias stands for the list and its 999 items.
	if r, root := parseText(text(mostExpanded / 1000)); root == nil {
		t.Errorf("%+v", r.found)
	}
	if _, root := parseText(text(mostExpanded/1000 + 1)); root != nil {
		t.Error("too many values were accepted")
	}
}

func TestDeepNesting(t *testing.T) {
	for _, text := range []string{strings.Repeat("[", 100_000), strings.Repeat("{a: ", 50_000), "a: " + strings.Repeat("- ", 50_000)} {
		r, root := parseText(text)
		if root != nil || !r.Failed() {
			t.Errorf("%.20q... was read", text)
		}
		if found, _ := r.Problems(); len(found) != 1 || found[0].Detail == "" ||
			found[0].Summary != "the file is nested too deeply" && !strings.HasPrefix(text, "a: -") {
			t.Errorf("%.20q...: %+v", text, found)
		}
	}
}

func TestCarriageReturns(t *testing.T) {
	r, root := parseText("parts:\r\n  - sku: A\r\n    kind: b\r\n")
	if root == nil || r.Failed() {
		t.Fatalf("%+v", r.found)
	}
	kind := r.Lookup(root.Content[1].Content[0], "kind")
	if kind == nil || kind.Value != "b" || r.Where(kind).Line != 3 || r.Where(kind).Column != 11 {
		t.Errorf("kind %+v at %v", kind, r.Where(kind))
	}
}

func TestEmptyDocuments(t *testing.T) {
	for _, text := range []string{"", "\n", "# nothing\n", "---\n", "~\n", "null"} {
		r, root := parseText(text)
		if root != nil || r.Failed() {
			t.Errorf("%q: root %v, %+v", text, root, r.found)
		}
	}
}

// A long list is cut only where an item starts, and the pieces together hold
// what the file holds, at the same lines.
func TestPieces(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and about the text alone")
	}
	item := func(indent string, i int) string {
		return fmt.Sprintf("%s- sku: P%d\n%s  note: |\n%s    text\n%s    - no item\n%s  list:\n%s    - a\n%s    - b\n", indent, i, indent, indent, indent, indent, indent, indent)
	}
	for _, indent := range []string{"", "  ", "    "} {
		var b strings.Builder
		b.WriteString("# a remark\nparts:\n# another\n")
		n := 0
		for ; b.Len() < 5*pieceBytes; n++ {
			b.WriteString(item(indent, n))
		}
		f := &File{Name: "a.yaml", Text: []byte(b.String())}
		pieces := Pieces(f, "parts")
		if len(pieces) < 4 {
			t.Errorf("indent %d: %d pieces", len(indent), len(pieces))
		}
		i := 0
		for _, p := range pieces {
			r, root := ParsePiece(f, p)
			if root == nil || r.Failed() {
				t.Fatalf("indent %d: %+v", len(indent), r.found)
			}
			for _, item := range root.Content[1].Content {
				sku := r.Lookup(item, "sku")
				at := r.Where(sku)
				if sku.Value != fmt.Sprintf("P%d", i) || f.Line(at.Line)[at.Column-1:] != sku.Value {
					t.Fatalf("indent %d: item %d is %s at %v: %q", len(indent), i, sku.Value, at, f.Line(at.Line))
				}
				i++
			}
		}
		if i != n {
			t.Errorf("indent %d: %d items in the pieces, %d in the file", len(indent), i, n)
		}
	}
}

// What cannot be cut for sure stays whole.
func TestPiecesStayWhole(t *testing.T) {
	filler := strings.Repeat("  - sku: A\n    kind: b\n", pieceBytes/10)
	for name, text := range map[string]string{
		"another key after":  "parts:\n" + filler + "other:\n  - x\n",
		"another key before": "other: 1\nparts:\n" + filler,
		"a start mark":       "---\nparts:\n" + filler,
		"a value beside":     "parts: # remark\n" + filler,
		"a text at the left": "parts:\n" + filler + "  - note: \"two\nlines\"\n",
		"short":              "parts:\n  - sku: A\n",
	} {
		pieces := Pieces(&File{Name: "a.yaml", Text: []byte(text)}, "parts")
		if len(pieces) != 1 || pieces[0].Partial {
			t.Errorf("%s: %d pieces", name, len(pieces))
		}
	}
}

// A piece that ends within quotes cannot be parsed, so that the caller falls
// back to the whole file.
func TestPieceInQuotes(t *testing.T) {
	var b strings.Builder
	b.WriteString("parts:\n  - note: \"first\n")
	for b.Len() < 3*pieceBytes {
		b.WriteString("  - second\n")
	}
	b.WriteString("  - last\"\n")
	f := &File{Name: "a.yaml", Text: []byte(b.String())}
	if _, root := Parse(f); root == nil {
		t.Skip("the YAML library refuses such quotes at once")
	}
	failed := false
	for _, p := range Pieces(f, "parts") {
		if _, root := ParsePiece(f, p); root == nil {
			failed = true
		}
	}
	if !failed {
		t.Error("every piece was read, although the cuts fall into quotes")
	}
}
