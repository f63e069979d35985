package counter

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
)

var marked = regexp.MustCompile(`data-name="(?:To the first|Gain, dB)">([+−]?[0-9.]+)(?: <span class="tie">([^<]*)</span>)?`)

// No pin of the quote's scale goes through the words at 85 dBA.
func TestPinsLeaveTheWordsAlone(t *testing.T) {
	v, shown := voiceOf(nil, map[string][]string{keyLanguage: {"en-US"}}), 0
	for bass := 60.0; bass <= 130; bass++ {
		for music := 60.0; music <= 130; music++ {
			d := v.soundScale(music, bass)
			from, to := d.Safe-safeWords, d.Safe
			switch d.SafeEnd {
			case "":
				continue
			case "start":
				from, to = d.Safe, d.Safe+safeWords
			}
			shown++
			for _, m := range d.Marks {
				if m.X > from && m.X < to {
					t.Fatalf("music %g, bass %g: a pin at %g in %g to %g", music, bass, m.X, from, to)
				}
			}
		}
	}
	if shown < 3500 {
		t.Errorf("the words are shown %d times only", shown)
	}
}

// A difference that no meter shows is called a tie, and one that people notice
// is not.
func TestTies(t *testing.T) {
	certain := optimizer.Difference{DB: 0.02, Band: 0.001, Chance: 1}
	if got := mark(certain, false, certain.DB); got != "tie" {
		t.Errorf("0.02 dB: %q", got)
	}
	c := open(t, nil)
	rows := 0
	for _, address := range []string{"/", "/?goal=music", "/ladder?cap=900", "/ladder?front=either&cap=900"} {
		_, body := get(t, c, address)
		for _, m := range marked.FindAllStringSubmatch(body, -1) {
			rows++
			db, err := strconv.ParseFloat(strings.Replace(strings.TrimPrefix(m[1], "+"), "−", "-", 1), 64)
			if err != nil {
				t.Fatal(err)
			}
			if small := db > -facts.MeterStep && db < facts.MeterStep; small && m[2] != "tie" || (db > optimizer.Noticed || db < -optimizer.Noticed) && m[2] == "tie" {
				t.Errorf("%s: %s is marked %q", address, m[1], m[2])
			}
		}
	}
	if rows < 10 {
		t.Errorf("%d differences looked at", rows)
	}
}
