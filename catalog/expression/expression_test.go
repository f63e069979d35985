package expression_test

import (
	"fmt"
	"testing"

	"loudfor/catalog/expression"
)

func ExampleLate() {
	var year = expression.Late(`^(\d{4})$`)
	fmt.Println(year().MatchString("1987"), year().MatchString("87"))
	// Output: true false
}

// What cannot be compiled harms nobody who does not use it.
func TestBroken(t *testing.T) {
	broken := expression.Late(`(`)
	defer func() {
		if recover() == nil {
			t.Error("a broken expression was used")
		}
	}()
	broken()
}
