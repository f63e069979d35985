package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const sample = `package p

const most = 3

func f(a, b int) (int, error) {
	if a < b && b > 0 {
		a += 2
		g()
	}
	return -a, nil
}

func g() {}
`

func TestChanges(t *testing.T) {
	found, err := changesOf("/x/p.go", "p.go", "p", []byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range found {
		got = append(got, c.function+": "+c.what)
		changed := sample[:c.start] + c.text + sample[c.end:]
		if _, err := changesOf("/x/p.go", "p.go", "p", []byte(changed)); err != nil {
			t.Errorf("%s: %v\n%s", c, err, changed)
		}
	}
	want := []string{"const: 3 -> twice", "const: 3 -> half",
		"f: condition negated", "f: && -> ||", "f: < -> <=", "f: > -> >=", "f: 0 -> 1",
		"f: += -> -=", "f: assignment removed", "f: 2 -> twice", "f: 2 -> half", "f: call removed", "f: zero returned", "f: - removed"}
	if !slices.Equal(got, want) {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	again := amongSurvivors(slices.Clone(found), "killed    old/p.go:6: f: && -> ||  in  if a < b «&&» b > 0 {  by TestF\nslow      old/p.go:6: f: > -> >=  in  if a < b && b «>» 0 {\nSURVIVED  old/p.go:5: f: < -> <=  in  if a «<» b && b > 0 {\np.go:9: f: - removed  in  return «-»a, nil\n")
	if len(again) != 2 || again[0].what != "< -> <=" || again[1].what != "- removed" {
		t.Errorf("%v survived", again)
	}
	if c := found[4]; c.line != 6 || c.key() != "p.go | f | < -> <= | if a «<» b && b > 0 {" {
		t.Errorf("%s", c.key())
	}
}

// What is listed as equal in meaning is a change that can be made: a list of what has
// moved or gone would excuse nothing, and tell nobody.
func TestEqualOnesAreInTheCode(t *testing.T) {
	reasons, err := readEqual("testdata/equal.txt")
	if err != nil || len(reasons) == 0 {
		t.Fatal(len(reasons), err)
	}
	files := map[string]bool{}
	for key := range reasons {
		file, _, _ := strings.Cut(key, " | ")
		files[file] = true
	}
	there := map[string]bool{}
	root := filepath.Join("..", "..", "..")
	err = filepath.WalkDir(root, func(name string, _ fs.DirEntry, err error) error {
		if err != nil || !files[filepath.Base(name)] {
			return err
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		found, err := changesOf(name, name, "", text)
		for _, c := range found {
			there[c.key()] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for key := range reasons {
		if !there[key] {
			t.Errorf("testdata/equal.txt: no change of the code is %q: write it as it is now, or delete it with what is no longer done", key)
		}
	}
}

// A whole run over a module of its own: what its tests look at is killed, what they
// do not look at survives without any test being asked, what waits for ever is ended by
// its processor time, and what is listed as equal is neither. Functions of all shapes
// stay what they are while none of their mutants is asked for.
func TestRun(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module m\n\ngo 1.26\n",
		"m.go": `package m

var table = []int{1, 2}

func Sum(n int) (s int) {
	for i := n; i > 0; i-- {
		s += i
	}
	return s
}

func Unseen() int { return 7 }

type Box[T any] struct{ of []T }

func (b *Box[T]) Put(_ int, more ...T) (err error) {
	defer func() { b.of, err = append(b.of, more...), nil }()
outer:
	for range more {
		for range more {
			continue outer
		}
	}
	return
}
`,
		"m_test.go": `package m

import (
	"os"
	"testing"
)

func TestSum(t *testing.T) {
	if Sum(3) != 6 || table[0] != 1 {
		t.Error(Sum(3), table)
	}
}

func TestPut(t *testing.T) {
	var b Box[string]
	if err := b.Put(0, "a", "b"); err != nil || len(b.of) != 2 {
		t.Error(b, err)
	}
}

func TestAlone(t *testing.T) {
	if os.Getenv("LOUDFOR_MUTANT") != "0" {
		t.Error("asked of what it does not reach")
	}
}
`,
		"equal.txt": "# none but\nm.go | Sum | > -> >= | for i := n; i «>» 0; i-- {\n\tadding nothing\n\tchanges nothing\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(folder)
	t.Setenv("GOFLAGS", "")
	t.Setenv("GOWORK", "off")
	memory := t.TempDir()
	run := func(many int, least float64) (string, error) {
		var b bytes.Buffer
		o := options{many: many, seed: 1, slack: 1, equal: "equal.txt", patterns: []string{"."}, least: least, memory: memory}
		err := o.test(&b)
		return b.String(), err
	}
	out, err := run(100, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"equal     m.go:6: Sum: > -> >=  in  for i := n; i «>» 0; i-- { (adding nothing changes nothing)\n",
		"killed    m.go:7: Sum: += -> -=  in  s «+=» i  by TestSum\n",
		"killed    m.go:7: Sum: assignment removed  in  «s += i»  by TestSum\n",
		"slow      m.go:6: Sum: -- -> ++  in  for i := n; i > 0; i«--» {\n",
		"killed    m.go:9: Sum: zero returned  in  «return s»  by TestSum\n",
		"SURVIVED  m.go:12: Unseen: 7 -> twice  in  func Unseen() int { return «7» }\n",
		"SURVIVED  m.go:12: Unseen: zero returned",
		"killed    m.go:17: Put: assignment removed  in  defer func() { «b.of, err = append(b.of, more...), nil» }()  by TestPut\n",
		"killed    m.go:3: var: 1 -> twice  in  var table = []int{«1», 2}  by TestSum\n",
		"SURVIVED  m.go:3: var: 2 -> twice  in  var table = []int{1, «2»}\n",
		"   8 killed    5 survived    1 equal  m\n",
		"14 drawn: ", " 1 equal in meaning, 5 survived; 62 % of those with another meaning killed\n",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	// With a test that never ends the time does, whether in building or in the test.
	hang := filepath.Join(folder, "hang_test.go")
	text := "package m\n\nimport (\n\t\"testing\"\n\t\"time\"\n)\n\nfunc TestHang(*testing.T) { time.Sleep(time.Hour) }\n"
	if err := os.WriteFile(hang, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	o := options{many: 3, seed: 1, slack: 1, equal: "equal.txt", patterns: []string{"."}, within: 2 * time.Second}
	if err := o.test(&b); err != nil || !strings.Contains(b.String(), "\n0 drawn: ") {
		t.Errorf("%v\n%s", err, &b)
	}
	if err := os.Remove(hang); err != nil {
		t.Fatal(err)
	}
	// The same draw, begun only, and with a share that it does not reach; what the tests
	// reach is known by now.
	again, err := run(3, 1.1)
	lines, first := strings.Split(out, "\n"), strings.Split(again, "\n")
	if !slices.Equal(lines[1:4], first[1:4]) || err == nil {
		t.Errorf("%v; the same draw gives\n%s\nand\n%s", err, out, again)
	}
	if kept, err := os.ReadDir(memory); err != nil || len(kept) != 1 {
		t.Errorf("%d packages are remembered: %v", len(kept), err)
	}
}
