package install

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/style"
	"loudfor/cmd/internal/table"
	"loudfor/cmd/internal/testing/browser"
	"loudfor/optimizer"
	"loudfor/optimizer/uncertainty"
)

// The demo briefs that can be built, and the builds: what the sheet of each
// looks like.
var demos = []string{"250-reading", "800-music", "1500-one-shop", "350-built", "music-hatch", "two-tens-vented"}

// isBrief: the names of briefs begin with the cap.
func isBrief(name string) bool { return name[0] >= '0' && name[0] <= '9' }

// known are the demos as jobs; each is predicted once for all tests.
var known = map[string]*demoJob{}

type demoJob struct {
	Job
	problem optimizer.Problem
}

// job is a demo's without what the meters show elsewhere, which takes longest.
func job(t *testing.T, name string) Job { return predicted(t, name).Job }

func predicted(t *testing.T, name string) *demoJob {
	t.Helper()
	if j := known[name]; j != nil {
		return j
	}
	var r inputs.Request
	if err := r.BuildOrBrief("demo:" + name); err != nil {
		t.Fatal(err)
	}
	in, err := inputs.Load(r)
	if err != nil {
		t.Fatal(err)
	}
	if in.Brief.BuildBoxes {
		if err := in.BuildBoxes(context.Background(), 0); err != nil {
			t.Fatal(err)
		}
	}
	p := optimizer.Problem{Catalogue: in.Catalogue, Brief: in.Brief, Vehicle: in.Vehicle, Top: 1, Seed: 1}
	j := Job{Question: in.Question()}
	if r.Build != "" {
		j.Build, err = optimizer.Predict(context.Background(), p, in.Parts, in.Mode, in.Load)
	} else {
		var result optimizer.Result
		if result, err = optimizer.Pick(context.Background(), p); err == nil {
			j.Build = result.Builds[0]
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	if in.Shop != nil {
		made := in.Shop.Of(&j.Build)
		if made == nil {
			t.Fatalf("%s: the best build has no box that is built", name)
		}
		j.Extra = []sheet.Section{BoxSection(made, j.Air())}
	}
	known[name] = &demoJob{j, p}
	return known[name]
}

// plan is that of a demo's job; complete has what the meters show elsewhere.
func plan(t *testing.T, name string) *Plan {
	t.Helper()
	p, err := Of(job(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func complete(t *testing.T, name string) *Plan {
	t.Helper()
	j := predicted(t, name)
	if spots := uncertainty.Spots(j.Question.Vehicle); len(j.Expected) != len(spots) {
		first, err := Of(j.Job)
		if err != nil {
			t.Fatal(err)
		}
		if j.Expected, err = uncertainty.Elsewhere(context.Background(), j.problem, &j.Build, spots, first.Passed()); err != nil {
			t.Fatal(err)
		}
	}
	p, err := Of(j.Job)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func written(t *testing.T, p *Plan, f sheet.Format) string {
	t.Helper()
	var b strings.Builder
	s := p.Sheet()
	if err := s.Write(&b, f, style.Style{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Every demo in every format, word for word. UPDATE=1 writes them anew.
func TestGolden(t *testing.T) {
	for _, name := range demos {
		for format, ending := range map[sheet.Format]string{sheet.Terminal: ".txt", sheet.Markdown: ".md", sheet.HTML: ".html"} {
			if format != sheet.Terminal && !isBrief(name) {
				continue // the briefs show the other formats
			}
			got := written(t, complete(t, name), format)
			file := filepath.Join("testdata", name+ending)
			if os.Getenv("UPDATE") != "" {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("%s (-want +got; UPDATE=1 if it is meant):\n%s", file, diff)
			}
		}
	}
}

// A sheet on a terminal is no wider than a terminal, and says nothing that is
// no number.
func TestTerminalPage(t *testing.T) {
	for _, name := range demos {
		for line := range strings.SplitSeq(written(t, complete(t, name), sheet.Terminal), "\n") {
			if cells := table.Cells(line); cells > table.Most {
				t.Errorf("%s: %d cells: %s", name, cells, line)
			}
			for _, word := range []string{"NaN", "Inf", "%!", "-0 "} {
				if strings.Contains(line, word) {
					t.Errorf("%s: %s", name, line)
				}
			}
		}
	}
}

// The page as a browser shows it: no label on another, nothing outside a
// picture or beside the page, nothing asked of a network; and as it prints.
func TestPageInABrowser(t *testing.T) {
	const slack = 1.5 // pixels; boxes of text hold leading too
	opened := browser.Open(t)
	for _, name := range demos[:4] {
		t.Run(name, func(t *testing.T) {
			b := opened.For(t)
			b.ShowText(name+".html", written(t, complete(t, name), sheet.HTML))
			drawings := b.Boxes("figure > svg")
			want := 2
			if len(job(t, name).Extra) > 0 {
				want++ // the plan of the sheets
			}
			if len(drawings) != want {
				t.Fatalf("%d drawings, want %d", len(drawings), want)
			}
			for i := range drawings {
				figure := fmt.Sprintf("figure:nth-of-type(%d) > svg ", i+1)
				frames, labels := b.Boxes(figure), b.Boxes(figure+"text")
				if len(frames) != 1 || len(labels) < 5 {
					t.Fatalf("%s: %d pictures, %d labels", figure, len(frames), len(labels))
				}
				for _, pair := range browser.Overlaps(labels, slack) {
					t.Errorf("%v lies on %v", pair[0], pair[1])
				}
				for _, part := range b.Boxes(figure + "text, " + figure + "path, " + figure + "rect, " + figure + "circle") {
					if !part.Inside(frames[0], slack) {
						t.Errorf("%v is outside the picture %v", part, frames[0])
					}
				}
			}
			main := b.Boxes("main")[0]
			for _, part := range b.Boxes("h1, h2, p, li, dl, table, figure, svg") {
				if part.Left < main.Left-slack || part.Right > main.Right+slack {
					t.Errorf("%v is wider than the page", part)
				}
			}
			if asked := b.Requests(); len(asked) > 0 {
				t.Errorf("the page asks for %v", asked)
			}
			if faults := b.Faults(); len(faults) > 0 {
				t.Errorf("faults: %v", faults)
			}
			if name != demos[0] {
				return
			}
			for _, paper := range []chromedp.PaperSize{chromedp.PaperA4, chromedp.PaperLetter} {
				pdf := browser.Ask(b, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
				if len(pdf) < 10_000 || string(pdf[:5]) != "%PDF-" {
					t.Errorf("it prints %d bytes", len(pdf))
				}
			}
		})
	}
}
