package hearing_test

import (
	"fmt"

	"loudfor/model/hearing"
)

func Example() {
	dba := hearing.Weighted(130, 50)
	fmt.Printf("%.1f dBA: %s\n", dba, hearing.Words(hearing.PermittedTime(dba)))
	// Output: 99.7 dBA: 15 min a day
}
