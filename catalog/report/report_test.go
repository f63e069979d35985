package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func at(file string, line, column int) Position {
	return Position{File: file, Line: line, Column: column}
}

func TestCells(t *testing.T) {
	for want, p := range map[string]Position{
		"b.xlsx:May!A1":   {File: "b.xlsx", Sheet: "May", Line: 1, Column: 1},
		"b.xlsx:May!Z12":  {File: "b.xlsx", Sheet: "May", Line: 12, Column: 26},
		"b.xlsx:May!AA7":  {File: "b.xlsx", Sheet: "May", Line: 7, Column: 27},
		"b.xlsx:May!XFD1": {File: "b.xlsx", Sheet: "May", Line: 1, Column: 16384}, // the last column there is
		"b.xlsx:May":      {File: "b.xlsx", Sheet: "May"},
		"b.csv:7:2":       {File: "b.csv", Line: 7, Column: 2},
	} {
		if got := p.String(); got != want {
			t.Errorf("%+v is %s, want %s", p, got, want)
		}
	}
	r := Report{Problems: []Problem{{Where: Position{File: "b", Sheet: "S", Line: 10, Column: 1}}, {Where: Position{File: "b", Sheet: "S", Line: 9, Column: 3}}}}
	if r.Sort(0); r.Problems[0].Where.Line != 9 {
		t.Error("cells are not in the order of rows")
	}
	if text, err := json.Marshal(r.Problems[0]); err != nil || !strings.Contains(string(text), `"line":9,"column":3,"sheet":"S"`) {
		t.Errorf("%s, %v", text, err)
	}
}

func written(t *testing.T, colour bool, p ...Problem) string {
	t.Helper()
	r := &Report{Problems: p}
	var b bytes.Buffer
	if err := r.Write(&b, colour); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWrite(t *testing.T) {
	first := at("parts.yaml", 3, 5)
	for name, c := range map[string]struct {
		p    Problem
		want string
	}{
		"everything": {
			Problem{Summary: `"58 kg" is a mass`, Detail: "write a volume\nsuch as 58 L", Where: at("parts.yaml", 12, 10), Text: "58 kg", Context: "    vas: 58 kg", Length: 5, Related: &first, RelatedNote: "first stated here"},
			"error  parts.yaml:12:10  \"58 kg\" is a mass\n  line 12 is  vas: >>58 kg<<\n  write a volume\n  such as 58 L\n  see parts.yaml:3:5: first stated here\n",
		},
		"whole file": {
			Problem{Severity: Warning, Summary: "the file is empty", Where: at("parts.yaml", 0, 0)},
			"warning  parts.yaml  the file is empty\n",
		},
		"no file": {Problem{Severity: Info, Summary: "a remark"}, "info  a remark\n"},
		"inches":  {Problem{Summary: fmt.Sprintf("%q is no size", `12"`), Detail: fmt.Sprintf("not %q", `6"`)}, "error  \"12\"\" is no size\n  not \"6\"\"\n"},
		"in the middle": {
			Problem{Summary: "s", Where: at("f", 1, 6), Context: "名前: x, y", Length: 1},
			"error  f:1:6  s\n  line 1 is  名前: x>>,<< y\n",
		},
		"tab":           {Problem{Summary: "s", Where: at("f", 1, 2), Context: "\tx", Length: 1}, "error  f:1:2  s\n  line 1 is  >>x<<\n"},
		"after the end": {Problem{Summary: "s", Where: at("f", 1, 5), Context: "qms:", Length: 1}, "error  f:1:5  s\n  line 1 is  qms:>><<\n"},
		"escape":        {Problem{Summary: "a\x1b[31mb", Where: at("f", 1, 1), Context: "\x1b]0;x", Length: 1}, "error  f:1:1  a\ufffd[31mb\n  line 1 is  >>\ufffd<<]0;x\n"},
		"right to left": {Problem{Summary: "a\u202eb"}, "error  a\ufffdb\n"},
	} {
		if diff := cmp.Diff(c.want, written(t, false, c.p)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestWriteLongLine(t *testing.T) {
	line := strings.Repeat("a", 500) + "XYZ" + strings.Repeat("b", 500)
	got := strings.Split(written(t, false, Problem{Summary: "s", Where: at("f", 1, 501), Context: line, Length: 3}), "\n")
	if len(got[1]) > widestContext+30 || !strings.Contains(got[1], "is  ...a") || !strings.HasSuffix(got[1], "b...") || !strings.Contains(got[1], "a>>XYZ<<b") {
		t.Errorf("%q", got[1])
	}
}

func TestWriteColour(t *testing.T) {
	p := Problem{Summary: "s", Where: at("f", 1, 1), Context: "x", Length: 1}
	got := written(t, true, p)
	if !strings.HasPrefix(got, "\x1b[1;31merror\x1b[0m") {
		t.Errorf("%q", got)
	}
	if strings.Count(got, "\x1b[0m") != strings.Count(got, "\x1b[")/2 {
		t.Errorf("a colour is left on: %q", got)
	}
}

// The pieces make up what is shown of the line, whatever the position.
func TestMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Problem{Summary: "s", Where: at("f", 1, rapid.IntRange(-5, 300).Draw(t, "column")),
			Context: rapid.StringN(0, 200, -1).Draw(t, "line"), Length: rapid.IntRange(-5, 300).Draw(t, "length")}
		before, marked, after := p.marked()
		shown := before + marked + after
		if strings.ContainsAny(shown, "\n\r\x1b") || len([]rune(shown)) > widestContext+6 {
			t.Fatalf("%q", shown)
		}
		line := Printable(strings.ReplaceAll(strings.ToValidUTF8(p.Context, "\ufffd"), "\t", " "))
		if !strings.Contains(line, strings.TrimSuffix(strings.TrimPrefix(shown, "..."), "...")) && !strings.Contains(line, "...") {
			t.Fatalf("%q is not in %q", shown, line)
		}
	})
}

func TestSort(t *testing.T) {
	r := &Report{}
	r.Add(
		Problem{Summary: "d", Where: at("b", 1, 1)}, Problem{Summary: "c", Where: at("a", 10, 1)}, Problem{Summary: "b", Where: at("a", 9, 2), Severity: Warning},
		Problem{Summary: "z", Where: at("a", 9, 2)}, Problem{Summary: "a", Where: at("a", 9, 1), Severity: Info}, Problem{Summary: "d", Where: at("b", 1, 1)},
	)
	r.Sort(0)
	var got []string
	for _, p := range r.Problems {
		got = append(got, p.Summary)
	}
	if diff := cmp.Diff([]string{"a", "z", "b", "c", "d"}, got); diff != "" {
		t.Error(diff)
	}
	r.Sort(3) // the errors stay
	got = nil
	for _, p := range r.Problems {
		got = append(got, p.Summary)
	}
	if diff := cmp.Diff([]string{"z", "c", "d"}, got); diff != "" || r.More != 2 {
		t.Errorf("%s, %d more", diff, r.More)
	}
	if s := r.Summary(); s != "3 errors, 2 more not shown" {
		t.Errorf("%q", s)
	}
}

func TestErr(t *testing.T) {
	var none *Report
	if none.Err() != nil || none.Count(Error) != 0 || none.Summary() != "" || none.Write(os.Stderr, false) != nil {
		t.Error("no report is not empty")
	}
	r := &Report{Problems: []Problem{{Severity: Warning, Summary: "w", Where: at("f", 1, 1)}}}
	if r.Err() != nil {
		t.Errorf("a warning is the error %v", r.Err())
	}
	r.Add(Problem{Summary: "e", Where: at("f", 2, 3)}, Problem{Summary: "e2", Where: at("f", 3, 3)})
	var f *Failure
	if err := r.Err(); err == nil || err.Error() != "f:2:3: e (and 1 more)" || !errors.As(err, &f) || f.Report != r {
		t.Errorf("%v", r.Err())
	}
	r.Merge(nil)
	r.Merge(&Report{Problems: []Problem{{Summary: "x"}}, More: 4})
	if len(r.Problems) != 4 || r.More != 4 {
		t.Errorf("%+v", r)
	}
}

func TestJSON(t *testing.T) {
	first := at("a.yaml", 3, 5)
	r := Report{Problems: []Problem{
		{Summary: "s", Detail: "d", Where: at("a.yaml", 12, 10), Text: "58 kg", Context: "not in the JSON", Length: 5, Related: &first, RelatedNote: "n"},
		{Severity: Info, Summary: "t", Where: at("b.yaml", 0, 0)},
	}}
	got, err := json.Marshal(r)
	want := `{"problems":[{"severity":"error","file":"a.yaml","line":12,"column":10,"text":"58 kg","summary":"s","remedy":"d","related":{"file":"a.yaml","line":3,"column":5,"note":"n"}},{"severity":"info","file":"b.yaml","summary":"t"}]}`
	if err != nil || string(got) != want {
		t.Errorf("%s, %v", got, err)
	}
}
