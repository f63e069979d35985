package counter

import (
	"image"
	"image/color"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

var square = regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`)

// scanned reads a code as a telephone does: drawn as a picture, by a reader that
// is not by the authors of the writer.
func scanned(t *testing.T, svg string) string {
	t.Helper()
	size := regexp.MustCompile(`viewBox="0 0 (\d+) `).FindStringSubmatch(svg)
	if size == nil {
		t.Fatal(svg)
	}
	side, _ := strconv.Atoi(size[1])
	const scale = 4
	picture := image.NewGray(image.Rect(0, 0, side*scale, side*scale))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for _, m := range square.FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		for dx := range scale {
			for dy := range scale {
				picture.SetGray(x*scale+dx, y*scale+dy, color.Gray{})
			}
		}
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	found, err := qrcode.NewQRCodeReader().Decode(bits, nil)
	if err != nil {
		t.Fatal(err)
	}
	return found.GetText()
}

// The code holds the address that stands beneath it, short and long.
func TestCodeCanBeScanned(t *testing.T) {
	for _, address := range []string{"http://192.168.1.5:7250/", "http://192.168.1.5:7250/quote?" + strings.Repeat("parts=TM-12V~KE-M3*2&", 20)} {
		svg, err := codeOfLink(address)
		if err != nil {
			t.Fatal(err)
		}
		if got := scanned(t, string(svg)); got != address {
			t.Errorf("%q is scanned as %q", address, got)
		}
	}
	if _, err := codeOfLink("http://x/" + strings.Repeat("x", 5000)); err == nil {
		t.Error("an address that is too long for any code")
	}
}

// A link is shared where others can reach the page, and only one of this page.
func TestShare(t *testing.T) {
	if _, page := get(t, open(t, nil), "/share?to=/quote"); !strings.Contains(page, "Only this machine") || strings.Contains(page, "<svg class=\"code\"") {
		t.Error("a page that only this machine reaches offers a link")
	}
	const token = "a long enough token"
	c := open(t, func(o *Options) { o.Token, o.Hosts = token, []string{"counter.shop"} })
	page := entered(t, c, "/share?to="+"/quote%3Fcap%3D300")
	if !strings.Contains(page, "http://counter.shop:80/quote?cap=300") || strings.Contains(page, token) {
		t.Errorf("the links:\n%s", page)
	}
	for _, bad := range []string{"//stranger.invalid/", "https://stranger.invalid/", `/\stranger.invalid`, "javascript:alert(1)"} {
		if ownAddress(bad) {
			t.Errorf("%s is taken for a view of this page", bad)
		}
	}
}

// entered asks as somebody who has the token.
func entered(t *testing.T, c *Counter, address string) string {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, address, nil)
	r.Host = "counter.shop"
	r.Header.Set("Authorization", "Bearer "+c.options.Token)
	w := httptest.NewRecorder()
	c.Handler().ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		t.Fatalf("%s: %d", address, w.Code)
	}
	return w.Body.String()
}
