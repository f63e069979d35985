package table

import (
	"regexp"
	"slices"
	"strings"
)

// hanging is what stands before the words of a line: space, and perhaps a name in a
// column of its own.
var hanging = regexp.MustCompile(`^ *(?:[^ ]+(?: [^ ]+)*? {2,})?`)

// Fit breaks the lines of a laid-out text that are wider than a page, under where their
// words begin; a paragraph with such a line is filled anew. All others stay as they are.
func Fit(width int, text string) string {
	lines := strings.Split(text, "\n")
	var fitted []string
	for i := 0; i < len(lines); {
		end := i
		for end < len(lines) && prose(lines[end]) {
			end++
		}
		if slices.ContainsFunc(lines[i:end], func(line string) bool { return Cells(line) > width }) {
			fitted = append(fitted, Wrap(strings.Join(lines[i:end], " "), width)...)
			i = end
			continue
		}
		fitted = append(fitted, lines[i:end]...)
		if i = end; i < len(lines) {
			fitted = append(fitted, fit(width, lines[i]))
			i++
		}
	}
	return strings.Join(fitted, "\n")
}

// prose tells whether a line is one of a paragraph.
func prose(line string) bool {
	return line != "" && line[0] != ' ' && !strings.Contains(line, "  ")
}

func fit(width int, line string) string {
	if Cells(line) <= width {
		return line
	}
	before := hanging.FindString(line)
	if Cells(before) > width/2 {
		before = before[:len(before)-len(strings.TrimLeft(before, " "))]
	}
	return strings.TrimSuffix(Indent(width, before, line[len(before):]), "\n")
}
