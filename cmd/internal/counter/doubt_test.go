package counter

import (
	"strings"
	"testing"
)

// The customer's quote names what can hardly be so: here a cone of 48 g on a twelve.
func TestTheQuoteNamesADoubtfulCard(t *testing.T) {
	file, text := shelfOf(t)
	said := func() bool {
		c := open(t, func(o *Options) { o.Request = shop(file) })
		status, body := get(t, c, "/quote")
		if status != 200 {
			t.Fatal(status, body)
		}
		return strings.Contains(body, "To be looked at before anything is bought") && strings.Contains(body, "moving mass")
	}
	if said() {
		t.Error("an honest card is doubted")
	}
	write(t, file, strings.Replace(text, "vas: 58 L", "vas: 200 L", 1))
	if !said() {
		t.Error("a Vas of 200 L on a twelve is not named")
	}
}
