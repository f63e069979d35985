package table

import (
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
	for word := range strings.FieldsSeq(text) {
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
