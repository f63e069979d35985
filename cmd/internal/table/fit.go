package table

import (
	"regexp"
	"strings"
)

// hanging is what stands before the words of a line: space, and perhaps a name in a
// column of its own.
var hanging = regexp.MustCompile(`^ *(?:[^ ]+ {2,})?`)

// Fit breaks the lines of a laid-out text that are wider than a page, under where their
// words begin. All others stay as they are.
func Fit(width int, text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if Cells(line) <= width {
			continue
		}
		before := hanging.FindString(line)
		if Cells(before) > width/2 {
			before = before[:len(before)-len(strings.TrimLeft(before, " "))]
		}
		lines[i] = strings.TrimSuffix(Indent(width, before, line[len(before):]), "\n")
	}
	return strings.Join(lines, "\n")
}
