package table

import (
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"
)

// cells measures without asking the environment: the same input gives the
// same bytes whatever the locale.
var cells = &runewidth.Condition{}

// Cells is the width of text in terminal cells.
func Cells(text string) int { return cells.StringWidth(text) }

// Wrap breaks text at spaces into lines of at most width terminal cells. A
// word longer than a line is cut. Greedy filling is right here: the lines are
// read as a list, not as a set paragraph.
func Wrap(text string, width int) []string {
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		lines = append(lines, wrapLine(paragraph, max(width, 1))...)
	}
	return lines
}

func wrapLine(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range glued(text, width) {
		for Cells(word) > width {
			head, tail := cut(word, width)
			if used > 0 {
				lines = append(lines, line)
				line, used = "", 0
			}
			lines = append(lines, head)
			word = tail
		}
		wide := Cells(word)
		switch {
		case wide == 0:
		case used == 0:
			line, used = word, wide
		case used+1+wide <= width:
			line, used = line+" "+word, used+1+wide
		default:
			lines = append(lines, line)
			line, used = word, wide
		}
	}
	if used > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// units stand behind a number on one line with it.
var units = []string{"dB", "dBA", "V", "A", "W", "VA", "Hz", "ohm", "mm", "cm", "cm2", "m", "m/s", "mm2", "L", "K", "kg", "AWG", "%"}

// glued are the words of a text, a number with its unit and its band as one: "1.2
// +/- 0.4 dB". Where that is wider than a line, the parts are words.
func glued(text string, width int) (words []string) {
	all := strings.Fields(text)
	for i, word := range all {
		if n := len(words); i > 0 && sticks(all[i-1], word) && Cells(words[n-1])+1+Cells(word) <= width {
			words[n-1] += " " + word
			continue
		}
		words = append(words, word)
	}
	return words
}

func sticks(before, word string) bool {
	if before == "+/-" || word == "+/-" {
		return true
	}
	return before[0] >= '0' && before[0] <= '9' && slices.Contains(units, strings.TrimRight(word, ".,;:)"))
}

// cut splits a word after the last rune that fits; at least one rune goes to
// the head, or a wide rune in a narrow column would never end.
func cut(word string, width int) (head, tail string) {
	used := 0
	for i, r := range word {
		wide := cells.RuneWidth(r)
		if i > 0 && used+wide > width {
			return word[:i], word[i:]
		}
		used += wide
	}
	return word, ""
}

func wrapCell(text string, width int) string {
	return strings.Join(Wrap(text, width), "\n")
}

// Indent wraps text to a page so many cells wide, with a first line that starts
// with mark and further lines that stand under the text: a list item.
func Indent(width int, mark, text string) string {
	margin := strings.Repeat(" ", Cells(mark))
	lines := Wrap(text, width-len(margin))
	for i := range lines {
		if i == 0 {
			lines[i] = mark + lines[i]
		} else {
			lines[i] = margin + lines[i]
		}
	}
	return strings.Join(lines, "\n") + "\n"
}
