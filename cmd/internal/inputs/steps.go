package inputs

import (
	"fmt"
	"strings"

	"loudfor/catalog"
)

// Steps gives a brief money in steps: its cap, and sums that come on top of it later.
func Steps(b *catalog.Brief, then []string, currency string) error {
	texts := []string{b.Cap.String()}
	for _, text := range then {
		sum, err := ParseCap(strings.TrimPrefix(strings.TrimSpace(text), "+"), currency)
		if err != nil {
			return fmt.Errorf(" %s: not a sum of money above zero, such as \"300 %s\"", text, currency)
		}
		texts = append(texts, "+"+sum.String())
	}
	if err := b.Say("steps", texts...).Err(); err != nil {
		return fmt.Errorf(": %w", err)
	}
	return nil
}
