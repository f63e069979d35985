package main

import (
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loudfor/optimizer"
)

// The ways in which outputs call a difference a tie: on a line of text or of a
// page, and in JSON, where the difference stands beside it.
var (
	tieText = []*regexp.Regexp{
		regexp.MustCompile(`([-+−]?\d+[.,]\d+)(?:\s*(?:dB)?\s*(?:\+/-|±)\s*\d+[.,]\d+)?(?:\s*of \d+)?(?:\s*dB)?(?:</?[^>]*>|[\s:|])*(?:a )?tie\b`),
		regexp.MustCompile(`are a tie: ([-+−]?\d+[.,]\d+)`),
		regexp.MustCompile(`as\s+far\s+as\s+\w+\s+can\s+tell\s+\(([-+−]?\d+[.,]\d+)\s+dB\s+apart`),
	}
	tieWord = regexp.MustCompile(`(?:: a tie|[.,]\d+ (?:dB )?tie)\b|"tie": true`)
	jsonDB  = regexp.MustCompile(`"(?:rise_db|difference_db)": (-?[\d.]+)|"difference": \{\s*"db": (-?[\d.]+)`)
)

// tiesOf are the differences in a text that are called ties, dB.
func tiesOf(text string) (all []float64) {
	for _, pattern := range tieText {
		for _, m := range pattern.FindAllStringSubmatch(text, -1) {
			all = append(all, figureOf(m[1]))
		}
	}
	for from := 0; ; {
		at := strings.Index(text[from:], `"tie": true`)
		if at < 0 {
			return all
		}
		at += from
		from = at + 1
		// The difference is the nearest one, before or behind.
		best, far := math.NaN(), len(text)
		for _, m := range jsonDB.FindAllStringSubmatchIndex(text, -1) {
			i := max(m[2], m[4])
			if d := max(i-at, at-i); d < far {
				best, far = figureOf(text[i:max(m[3], m[5])]), d
			}
		}
		all = append(all, best)
	}
}

func figureOf(text string) float64 {
	value, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "−", "-").Replace(text), 64)
	if err != nil {
		return math.NaN()
	}
	return value
}

// No output that is kept calls two builds a tie that a listener would tell
// apart.
func TestNoTieAboveWhatIsNoticed(t *testing.T) {
	for text, want := range map[string]float64{
		"TM-12V  -1.5 +/- 2.2 dB tie  -1.61":              -1.5,
		"B and A are a tie: 1.8 +/- 2.0 dB apart":         1.8,
		"2  -4.5 tie  790.66 USD":                         -4.5,
		"3 is within 1.7 dB +/- 2.6 of 1: a tie":          1.7,
		"(+1.4 +/- 1.9 dB: a tie), and":                   1.4,
		"as far as anyone can tell (1.2 dB\n  apart)":     1.2,
		"+1,5 ± 2,2 dB <span class=\"tie\">tie</span>":    1.5,
		"\"tie\": true,\n\"difference\": {\n\"db\": -2.5": -2.5,
		"\"rise_db\": 1.25,\n\"tie\": true":               1.25,
	} {
		if got := tiesOf(text); len(got) != 1 || got[0] != want {
			t.Fatalf("%q: %v, want %v", text, got, want)
		}
	}
	found, inJSON := 0, 0
	read := func(path string) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		ties := tiesOf(text)
		if said := len(tieWord.FindAllString(text, -1)); len(ties) < said {
			t.Errorf("%s: %d of %d ties have no figure that this test knows", path, said-len(ties), said)
		}
		inJSON += strings.Count(text, `"tie": true`)
		for _, db := range ties {
			if found++; !(math.Abs(db) <= optimizer.Noticed) {
				t.Errorf("%s: builds %g dB apart are called a tie", path, db)
			}
		}
	}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		golden := strings.Contains(path, "testdata") || entry.Name() == "README.md"
		switch filepath.Ext(path) {
		case ".txtar", ".txt", ".md", ".html", ".json", ".svg":
			if golden && !entry.IsDir() {
				read(path)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d ties, %d of them in JSON", found, inJSON)
	if inJSON == 0 || found == inJSON {
		t.Errorf("%d ties, %d of them in JSON: the test reads nothing of one of the two", found, inJSON)
	}
}
