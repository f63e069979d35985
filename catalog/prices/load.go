package prices

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
)

// Load reads files and folders of price lists; of a folder, its *.csv, *.tsv
// and *.xlsx files. The report holds every problem of every list, sorted; with
// an error in it there are no lists.
func Load(paths []string, o Options) ([]*List, *catalog.Report) {
	report := &catalog.Report{}
	if len(paths) == 0 {
		report.Add(catalog.Problem{Summary: "no price list is named", Detail: "name a CSV or XLSX file, or a folder that holds some"})
	}
	var lists []*List
	for _, name := range find(paths, report) {
		l, found := LoadFS(document.System{}, name, o)
		report.Merge(found)
		if l != nil {
			lists = append(lists, l)
		}
	}
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return nil, report
	}
	return lists, report
}

// LoadFS reads one price list of a file system, such as an embedded one.
func LoadFS(fsys fs.FS, name string, o Options) (*List, *catalog.Report) {
	content, problem := document.ReadBytes(fsys, name, MostBytes)
	if problem != nil {
		return nil, &catalog.Report{Problems: []catalog.Problem{*problem}}
	}
	return Read(name, content, o)
}

// Read reads one price list from memory. What kind of file it is, its first
// bytes tell; the name is only for messages.
func Read(name string, content []byte, o Options) (*List, *catalog.Report) {
	t, report := &table{options: o}, &catalog.Report{}
	sheets, found := grid.Read(name, content, grid.Options{
		What: "a price list", Columns: known(), Sample: "SKU, price, stock, date",
		Sheet: o.Sheet, IsHeader: isHeader, MostRows: MostRows, MostUnpacked: MostUnpacked,
	})
	report.Add(found...)
	if report.Err() != nil {
		t.failed++ // entries may be missing: what contradicts what is not known yet
	}
	for i := range sheets {
		t.line, t.day = sheets[i].Line, sheets[i].Day
		t.rows(&sheets[i])
	}
	report.Add(t.found...)
	if t.failed == 0 {
		report.Add(contradictions(t.entries)...)
	}
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return nil, report
	}
	return &List{Name: name, Entries: t.entries, Undated: t.undated, Day: o.Date}, report
}

// find lists the files to read, each once, in order of name within a folder.
func find(paths []string, report *catalog.Report) []string {
	var out []string
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil || !info.IsDir() {
			out = append(out, p) // reading it says what is wrong
			continue
		}
		inside, err := os.ReadDir(p)
		if err != nil {
			report.Add(catalog.Problem{Summary: "the folder cannot be read", Detail: "give yourself the right to read it", Where: catalog.Position{File: p}})
			continue
		}
		before := len(out)
		for _, e := range inside {
			if !e.IsDir() && IsList(e.Name()) {
				out = append(out, filepath.Join(p, e.Name()))
			}
		}
		if len(out) == before {
			report.Add(catalog.Problem{Summary: "the folder holds no price list", Detail: "put *.csv, *.tsv or *.xlsx files in it, or name another one", Where: catalog.Position{File: p}})
		}
	}
	return compacted(out)
}

func compacted(names []string) (out []string) {
	for _, n := range names {
		if n = filepath.Clean(n); !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// IsList tells by the name of a file whether it may be a price list. Hidden
// files and the lock files of spreadsheet programs are none.
func IsList(name string) bool {
	base := filepath.Base(name)
	if strings.HasPrefix(base, ".") || strings.HasPrefix(base, "~$") {
		return false
	}
	switch strings.ToLower(filepath.Ext(base)) {
	case ".csv", ".tsv", ".xlsx", ".xlsm":
		return true
	}
	return false
}

// contradictions are two rows that say different things of one part in one
// shop on one day.
func contradictions(entries []Entry) (found []catalog.Problem) {
	var priced, counted *Entry
	var last keyed
	for i, e := range sorted(entries) {
		if i == 0 || e.SKU != last.SKU || e.store != last.store || e.Date != last.Date {
			priced, counted = nil, nil
		}
		last = e
		if e.Priced {
			if priced == nil {
				priced = e.Entry
			} else if priced.Price != e.Price {
				found = append(found, twice(e.Entry, priced, "prices", e.Price, priced.Price))
			}
		}
		if e.Stock != catalog.Unlimited {
			if counted == nil {
				counted = e.Entry
			} else if counted.Stock != e.Stock {
				found = append(found, twice(e.Entry, counted, "stocks", e.Stock, counted.Stock))
			}
		}
	}
	return found
}

func twice(e, first *Entry, what string, second, before any) catalog.Problem {
	shop := ""
	if e.Store != "" {
		shop = " at " + e.Store
	}
	return catalog.Problem{
		Summary: fmt.Sprintf("two %s for %s%s on %s: %v and %v", what, e.SKU, shop, e.Date, before, second),
		Detail:  "keep the one that is right", Where: e.Where, Text: e.SKU,
	}.Citing(first.Where, "the other one")
}
