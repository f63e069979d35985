package main

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"loudfor/cmd/internal/table"
)

// Whatever the width of the terminal, from 60 to 120 columns, no line of any command is
// wider, and none ends within a word: every word of a narrow page stands on the widest
// as well.
func TestPagesFitTheirWidth(t *testing.T) {
	if testing.Short() {
		t.Skip("whole commands")
	}
	commands := [][]string{
		{"pick"}, {"pick", "--full"}, {"pick", "--list"}, {"pick", "demo:800-music"}, {"pick", "demo:500-no-room"},
		{"ladder"}, {"ladder", "--full", "--all"}, {"why"}, {"why", "--full"}, {"why", "--part", "OR-4C-B"},
		{"check"}, {"predict", "demo:value-12-sealed"}, {"predict", "demo:two-tens-vented", "--full"}, {"predict", "demo:value-12-sealed", "--volts", "2.83"},
		{"versus", "demo:250-reading", "demo:value-12-sealed", "demo:music-hatch"},
		{"sheet"}, {"sheet", "demo:twelve-built"}, {"box", "demo:twelve-built"}, {"meter", "plan", "demo:small-sedan"},
	}
	for _, topic := range []string{"", "formats", "json", "pick", "why", "book add"} {
		commands = append(commands, strings.Fields("help "+topic))
	}
	for _, args := range commands {
		fits(t, args, len(args) < 2)
	}
}

// mostLines make one screen, at 80 columns.
var mostLines = map[string]int{"pick": 30, "ladder": 45, "why": 40, "check": 40, "predict": 45}

// fits holds a command at all widths; short is one whose answer is for one screen.
func fits(t *testing.T, args []string, short bool) {
	t.Helper()
	name := strings.Join(args, " ")
	all := map[string]bool{}
	for _, width := range []int{120, 100, 80, 60} {
		text := at(t, width, args)
		if lines, most := strings.Count(text, "\n"), mostLines[args[0]]; width == 80 && most > 0 && short && lines > most {
			t.Errorf("%s: %d lines at 80 columns, at most %d make a screen\n%s", name, lines, most, text)
		}
		for i, line := range strings.Split(text, "\n") {
			if wide := table.Cells(line); wide > width {
				t.Errorf("%s at %d columns, line %d is %d wide: %s", name, width, i+1, wide, line)
			}
		}
		for _, word := range lettered.FindAllString(plotted.ReplaceAllString(text, ""), -1) {
			switch {
			case width == 120:
				all[word] = true
			case !all[word]:
				t.Errorf("%s at %d columns: %q is no word of the page at 120", name, width, word)
			}
		}
	}
}

// lettered are words longer than what stands on axes and in drawings, and numbers.
var lettered = regexp.MustCompile(`[A-Za-z]{3,}|\d[\d.,]+`)

// plotted are the rows of charts, whose marks are no words, and the line that counts what
// a screen does not hold, which a wider one may.
var plotted = regexp.MustCompile(`(?m)^ *[0-9.]* *\|.*$|^  - \d+ more .*$`)

// at is what a command prints on a terminal so wide.
func at(t *testing.T, width int, args []string) string {
	t.Helper()
	t.Setenv("COLUMNS", fmt.Sprint(width))
	var out, errs bytes.Buffer
	if status := run(args, strings.NewReader(""), &out, &errs); status != statusDone && status != statusNoBuild {
		t.Fatalf("%s: status %d: %s", strings.Join(args, " "), status, errs.String())
	}
	return out.String()
}
