package counter

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/testing/browser"
)

// screen is what a test looks at a page through.
type screen struct{ *browser.Browser }

// answered is a screen at the first view, once its ranking is there.
func answered(t testing.TB, address string) screen {
	t.Helper()
	s := screen{browser.Open(t)}
	s.size(t, 1280, 900)
	s.Show(address + "/")
	s.is(t, `document.querySelector("table.ranked") && !document.getElementById("answer").dataset.waits`)
	return s
}

func (s screen) size(t testing.TB, width, height int64) {
	t.Helper()
	_, err := chromedp.Call(s.Context(), emulation.SetDeviceMetricsOverride,
		emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1})
	if err != nil {
		t.Fatal(err)
	}
}

// scheme is "light" or "dark"; nothing moves. Colours are the page's own, or
// "active": forced on it by the visitor.
func (s screen) scheme(t testing.TB, scheme, forced string) {
	t.Helper()
	_, err := chromedp.Call(s.Context(), emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}, {Name: "forced-colors", Value: forced}}})
	if err != nil {
		t.Fatal(err)
	}
}

func (s screen) scripts(t testing.TB, on bool) {
	t.Helper()
	_, err := chromedp.Call(s.Context(), emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !on})
	if err != nil {
		t.Fatal(err)
	}
}

// picture is the whole page as a PNG.
func (s screen) picture(t testing.TB) []byte {
	t.Helper()
	beyond := true
	shot, err := chromedp.Call(s.Context(), cdp.CaptureScreenshot, cdp.CaptureScreenshotParams{CaptureBeyondViewport: &beyond})
	if err != nil {
		t.Fatal(err)
	}
	return shot.Data
}

// is waits until an expression holds in the page.
func (s screen) is(t testing.TB, expression string) {
	t.Helper()
	const watchdog = 5 * time.Minute
	for end := time.Now().Add(watchdog); ; time.Sleep(30 * time.Millisecond) {
		holds, err := chromedp.Run(s.Context(), chromedp.Evaluate[bool]("!!("+expression+")"))
		if err == nil && holds {
			return
		}
		if time.Now().After(end) {
			text, _ := chromedp.Run(s.Context(), chromedp.Evaluate[string](`location.href + "\n" + document.body.innerText.slice(0, 1500)`))
			t.Fatalf("it never holds that %s (%v); the page is\n%s", expression, err, text)
		}
	}
}

// Pictures of every view at three widths, light and dark, for people to look
// at:
//
//	LOUDFOR_SCREENSHOTS=/tmp/pages go test ./cmd/internal/counter -run TestScreenshots
//
// LOUDFOR_SCREENSHOTS_ONLY, a pattern such as "quote-390", makes only those
// whose names match it.
func TestScreenshots(t *testing.T) {
	folder := os.Getenv("LOUDFOR_SCREENSHOTS")
	if folder == "" {
		t.Skip("LOUDFOR_SCREENSHOTS names no folder for the pictures")
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	c := open(t, nil)
	address := serve(t, c)
	bookOne(t, c)
	views := exampleViews(t, c)
	only, err := regexp.Compile(os.Getenv("LOUDFOR_SCREENSHOTS_ONLY"))
	if err != nil {
		t.Fatal(err)
	}
	for _, scheme := range []string{"light", "dark"} {
		for _, size := range []struct {
			name          string
			width, height int64
		}{{"390", 390, 844}, {"1280", 1280, 800}, {"1920", 1920, 1080}} {
			nameOf := func(view string) string { return view + "-" + size.name + "-" + scheme + ".png" }
			if !slices.ContainsFunc(views, func(view example) bool { return only.MatchString(nameOf(view.name)) }) {
				continue
			}
			s := screen{browser.Open(t)} // one for all would not live that long
			s.scheme(t, scheme, "none")
			s.size(t, size.width, size.height)
			for _, view := range views {
				if !only.MatchString(nameOf(view.name)) {
					continue
				}
				s.Show(address + view.address)
				s.is(t, `!document.getElementById("answer").dataset.waits`)
				if err := os.WriteFile(filepath.Join(folder, nameOf(view.name)), s.picture(t), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// pagePicture is the picture of the page in README.
const pagePicture = "testdata/page.png"

// The picture in README is one of the page as it is: UPDATE=1 makes it anew.
// Fonts differ between machines, so that pictures cannot be compared point by
// point; what is held is that there is one, of the right size and not too big.
func TestPagePicture(t *testing.T) {
	const width, height, most = 1180, 840, 150_000
	if os.Getenv("UPDATE") != "" {
		c := open(t, nil)
		s := screen{browser.Open(t)}
		s.scheme(t, "light", "none")
		s.size(t, width, height)
		s.Show(serve(t, c) + "/")
		s.is(t, `document.querySelector("table.ranked") && !document.getElementById("answer").dataset.waits`)
		shot, err := chromedp.Call(s.Context(), cdp.CaptureScreenshot, cdp.CaptureScreenshotParams{})
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(pagePicture, shot.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	content, err := os.ReadFile(pagePicture)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := png.DecodeConfig(bytes.NewReader(content))
	if err != nil || picture.Width != width || picture.Height != height || len(content) > most {
		t.Errorf("%v, %d bytes: %+v", err, len(content), picture)
	}
}
