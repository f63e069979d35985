package letterhead

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

func picture(t *testing.T, side int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, side, 1))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const whole = "shop: Dock Street Sound\naddress: [12 Dock Street, Northhaven]\ncontact: [555 0100]\nlogo: art/logo.png\nvalid: 30\nterms: [Half with the order.]\n"

func TestLoad(t *testing.T) {
	logo := picture(t, 8)
	files := fstest.MapFS{"a/shop.yaml": {Data: []byte(whole)}, "a/art/logo.png": {Data: logo}}
	got, report := LoadFS(files, "a/shop.yaml")
	want := Shop{Name: "Dock Street Sound", Address: []string{"12 Dock Street", "Northhaven"}, Contact: []string{"555 0100"},
		Logo: Picture{"image/png", logo}, ValidFor: 30, Terms: []string{"Half with the order."}}
	if diff := cmp.Diff(want, got); diff != "" || len(report.Problems) > 0 {
		t.Errorf("%s%v", diff, report.Problems)
	}
}

// Each mistake is told at its line, and then there is no shop.
func TestRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                                  "the file is empty",
		"address: [x]\n":                    `"shop"`,
		"shop: a\ncolour: red\n":            "colour",
		"shop: a\nvalid: 0\n":               "valid",
		"shop: a\nvalid: 1.5\n":             "is not a whole number",
		"shop: a\nlogo: [wide.png]\n":       "logo is one value",
		"shop: a\nlogo: none.png\n":         "cannot be read",
		"shop: a\nlogo: ../secret.png\n":    "not beside this file",
		"shop: a\nlogo: /etc/passwd\n":      "not beside this file",
		"shop: a\nlogo: shop.yaml\n":        "no picture",
		"shop: a\nlogo: wide.png\n":         "no picture",
		"shop: a\naddress: 7\nvalid: x\n":   "\"x\" is not a whole number",
		"shop: a\nterms: [1,2,3,4,5,6,7]\n": "more than 6 lines",
		"shop: a\nterms: [" + strings.Repeat("x", mostLine+1) + "]\n": "more than 120 characters",
	} {
		files := fstest.MapFS{"shop.yaml": {Data: []byte(text)}, "wide.png": {Data: picture(t, mostSide+1)}}
		got, report := LoadFS(files, "shop.yaml")
		err := report.Err()
		if err == nil || !strings.Contains(err.Error(), want) || got.Name != "" {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
