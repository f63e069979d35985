package counter

import (
	"bytes"
	"net/http"
	"strings"
	"testing"
)

// A part that cannot be is left out and named; the page answers with the rest.
func TestABadPartIsLeftOut(t *testing.T) {
	file, text := shelfOf(t)
	const bad = "  - {sku: BAD-PORT, kind: enclosure, price: 9 USD, type: vented, holes: 1 x 12 in, volume: 5 L, port: {diameter: 20 cm, length: 60 cm}}\n"
	write(t, file, text+bad)
	var log bytes.Buffer
	c := open(t, func(o *Options) { o.Request, o.Log = shop(file), &log })
	if !strings.Contains(log.String(), "BAD-PORT is left out") {
		t.Errorf("at the start: %q", log.String())
	}
	if status, body := get(t, c, "/catalogue"); status != http.StatusOK || !strings.Contains(body, "BAD-PORT is left out") {
		t.Errorf("%d: the catalogue's page does not name it", status)
	}
	if status, body := get(t, c, "/"); status != http.StatusOK || !strings.Contains(body, "PLAIN driver") {
		t.Errorf("%d: no answer", status)
	}
	write(t, file, text)
	c.Reload()
	if _, body := get(t, c, "/catalogue"); strings.Contains(body, "left out") {
		t.Error("it is mended, and the page still names it")
	}
	log.Reset()
	write(t, file, text+bad)
	c.Reload()
	if !strings.Contains(log.String(), "BAD-PORT is left out") {
		t.Errorf("at the change: %q", log.String())
	}
}
