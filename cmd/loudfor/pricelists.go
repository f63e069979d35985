package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/inputs"
)

// priceLists are the flags about price lists.
type priceLists struct {
	paths             []string
	asOf, date, sheet string
	// watched says that the one path is a folder that is watched: lists may be
	// yet to come.
	watched bool
	strict  bool // rows about parts that nobody knows refuse a list
}

func (l *priceLists) flags(cmd *cobra.Command, withPaths bool) {
	f := cmd.Flags()
	if withPaths {
		f.StringArrayVarP(&l.paths, "prices", "p", nil, "price `list` (CSV or XLSX), folder of them, or demo:clearance; may be given several times")
	}
	f.StringVar(&l.date, "date", "", "`day` of rows that state none: 2025-03-09")
	f.StringVar(&l.asOf, "as-of", "", "leave out rows dated after this `day`")
	f.BoolVar(&l.strict, "strict", false, "refuse lists with rows about parts that are not in the catalogue, in place of leaving them out")
	f.StringVar(&l.sheet, "sheet", "", "the one `sheet` of a workbook to read (default: all that look like price lists)")
}

// readLists are price lists as they were read.
type readLists struct {
	lists  []*prices.List
	asOf   prices.Date
	report *catalog.Report
}

// heard is load that hears of an interrupt.
func (l *priceLists) heard(ctx context.Context, currency string) (readLists, error) {
	return heard(ctx, func() (r readLists, err error) {
		r.lists, r.asOf, r.report, err = l.load(currency)
		return r, err
	})
}

// load reads the lists; without any path there are none.
func (l *priceLists) load(currency string) (lists []*prices.List, asOf prices.Date, report *catalog.Report, err error) {
	o := prices.Options{Currency: currency, Sheet: l.sheet}
	if o.Date, err = dayOf("--date", l.date); err != nil {
		return nil, asOf, nil, err
	}
	if asOf, err = dayOf("--as-of", l.asOf); err != nil {
		return nil, asOf, nil, err
	}
	if len(l.paths) == 0 || l.watched && !holdsLists(l.paths[0]) {
		return nil, asOf, &catalog.Report{}, nil
	}
	lists, report, err = loadLists(l.paths, o)
	if err != nil {
		return nil, asOf, nil, err
	}
	return lists, asOf, report, report.Err()
}

// demoList is how the built-in price lists are named.
const demoList = "demo:"

// loadLists reads lists from files and folders, and those of the demo.
func loadLists(paths []string, o prices.Options) ([]*prices.List, *catalog.Report, error) {
	var files []string
	var lists []*prices.List
	all := &catalog.Report{}
	for _, p := range paths {
		name, inDemo := strings.CutPrefix(p, demoList)
		if !inDemo {
			files = append(files, p)
			continue
		}
		full := path.Join(demo.Prices, strings.TrimSuffix(name, ".csv")+".csv")
		if _, err := fs.Stat(demo.FS, full); err != nil {
			return nil, nil, inputs.UsageError{Text: fmt.Sprintf("the demo has no price list %q; it has %s", name, inputs.DemoNames(demo.Prices))}
		}
		l, report := prices.LoadFS(demo.FS, full, o)
		all.Merge(report)
		lists = append(lists, l)
	}
	if len(files) > 0 {
		more, report := prices.Load(files, o)
		all.Merge(report)
		lists = append(lists, more...)
	}
	all.Sort(0)
	return lists, all, nil
}

// holdsLists says whether there is any price list in a folder.
func holdsLists(folder string) bool {
	inside, err := os.ReadDir(folder)
	return err != nil || slices.ContainsFunc(inside, func(e os.DirEntry) bool { return !e.IsDir() && prices.IsList(e.Name()) })
}

func dayOf(flag, text string) (prices.Date, error) {
	if text == "" {
		return prices.Date{}, nil
	}
	d, err := prices.ParseDate(text)
	if err != nil {
		return d, inputs.UsageError{Text: fmt.Sprintf("%s %s: %s; %s", flag, text, err.Summary, err.Remedy)}
	}
	return d, nil
}

// sources names price lists in words.
func sources(lists []*prices.List, recorded int) string {
	var words []string
	rows := 0
	undated, day := 0, prices.Date{}
	for _, l := range lists {
		words = append(words, filepath.Base(l.Name))
		rows += len(l.Entries)
		if l.Undated > 0 {
			undated, day = undated+l.Undated, l.Day
		}
	}
	text := ""
	if len(words) > 0 {
		text = fmt.Sprintf("%s (%s)", strings.Join(words, ", "), rowsWord(rows))
	}
	if undated > 0 {
		text += fmt.Sprintf(", of which %d without a date count as of %s (--date)", undated, day)
	}
	if recorded > 0 {
		if text != "" {
			text += " and "
		}
		text += rowsWord(recorded) + " recorded in the job book"
	}
	if text == "" {
		text = "none"
	}
	return text
}

func rowsWord(n int) string {
	if n == 1 {
		return "1 row"
	}
	return fmt.Sprintf("%d rows", n)
}
