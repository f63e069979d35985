// Package expression compiles a regular expression when it is first used.
//
//	var year = expression.Late(`^(\d{4})$`)
//	year().MatchString("1987")
//
// Some twenty of them, compiled while the program starts, would take longer
// than a small question takes to answer, and most questions need none. An
// expression that does not compile panics at its first use, so that each needs
// a test that uses it.
package expression

import (
	"regexp"
	"sync"
)

// Late gives the compiled expression, compiled once.
func Late(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
