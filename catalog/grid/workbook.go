package grid

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"path"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

// A workbook is a ZIP archive of XML files (ECMA-376, Office Open XML): one names
// the sheets, one holds texts that cells share, and each sheet is one. They are
// read as a stream, every cell once. The libraries for workbooks either keep a
// whole sheet, at a hundred times its size, or give cells without saying which
// of them are formulas; and what a formula showed when the file was saved may be
// long out of date, so formulas are refused where a value is needed.

// errTooLarge: the workbook unpacks to more than is read.
var errTooLarge = errors.New("it unpacks to more than is read")

// book is a workbook while it is read.
type book struct {
	reader *reader
	files  map[string]*zip.File // by their names in small letters
	left   int64                // bytes that may still be unpacked
	shared []string             // the texts that cells share
	era    bool                 // days are counted from 1904
	sheets []sheet
}

// sheet is one that the workbook names.
type sheet struct {
	name, part string
	hidden     bool
}

// workbook reads the sheets of a workbook.
func (r *reader) workbook(content []byte) {
	b := &book{reader: r, files: map[string]*zip.File{}, left: r.options.MostUnpacked}
	if err := b.open(content); err != nil {
		r.unread(Cell{At: r.whole()}, "the workbook cannot be read", err)
		return
	}
	lists := 0
	for _, s := range b.wanted() {
		where := Cell{At: catalog.Position{File: r.name, Sheet: s.name}}
		rows, err := b.rows(s)
		if err != nil {
			if r.unread(where, "the sheet cannot be read", err); errors.Is(err, errTooLarge) {
				return
			}
			continue
		}
		if found := r.lists(rows, s.name); len(found) > 0 {
			lists++
			for i := range found {
				found[i].Day = b.day
			}
			r.sheets = append(r.sheets, found...)
			continue
		}
		if r.options.Sheet != "" {
			lists++
			r.bad(where, "the sheet has no header", "name the columns in its first row, such as "+r.options.Columns)
			continue
		}
		r.remark(where, "the sheet is not read: it has no header", r.options.What+" has columns such as "+r.options.Columns)
	}
	if lists == 0 && r.failed == 0 {
		r.bad(Cell{At: r.whole()}, "no sheet of the workbook is "+r.options.What, "name the columns in the first row of a sheet, such as "+r.options.Columns)
	}
}

// unread reports why a workbook, or a sheet of it, is not read.
func (r *reader) unread(c Cell, what string, err error) {
	var rows tooManyRows
	switch {
	case errors.Is(err, errTooLarge):
		r.bad(Cell{At: r.whole()}, fmt.Sprintf("the workbook unpacks to more than %d MB", r.options.MostUnpacked>>20), "split it into several workbooks, or save the list as .csv")
	case errors.As(err, &rows):
		r.bad(rows.first, fmt.Sprintf("more than %d rows", r.options.MostRows), "split the list into several files")
	default:
		first, _, _ := strings.Cut(err.Error(), "\n")
		r.bad(c, what+": "+first, "open it in a spreadsheet program and save it again as .xlsx")
	}
}

// open finds the files inside, and what the workbook says of its sheets.
func (b *book) open(content []byte) error {
	archive, err := zip.NewReader(bytes.NewReader(content), int64(len(content)))
	if err != nil {
		return err
	}
	for _, f := range archive.File {
		b.files[partName("/", f.Name)] = f
	}
	main := "/xl/workbook.xml"
	for _, l := range b.links("/_rels/.rels", "/") {
		if strings.HasSuffix(l.kind, "/officeDocument") {
			main = l.part
		}
	}
	if strings.HasSuffix(main, ".bin") {
		return errors.New("it is an .xlsb workbook")
	}
	links := b.links(path.Join(path.Dir(main), "_rels", path.Base(main)+".rels"), path.Dir(main))
	err = b.elements(main, func(e xml.StartElement) error {
		switch e.Name.Local {
		case "workbookPr":
			b.era = truth(attribute(e, "date1904"))
		case "sheet":
			if l := links[attribute(e, "id")]; strings.HasSuffix(l.kind, "/worksheet") {
				b.sheets = append(b.sheets, sheet{attribute(e, "name"), l.part, strings.Contains(strings.ToLower(attribute(e, "state")), "hidden")})
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, l := range links {
		if strings.HasSuffix(l.kind, "/sharedStrings") && b.files[l.part] != nil {
			return b.texts(l.part)
		}
	}
	return nil
}

// link is one file's word of another.
type link struct{ kind, part string }

// links are those of a file, by their numbers; none where it has none.
func (b *book) links(part, folder string) map[string]link {
	out := map[string]link{}
	// A broken list of links shows as sheets that are not there.
	_ = b.elements(part, func(e xml.StartElement) error {
		if e.Name.Local == "Relationship" {
			out[attribute(e, "Id")] = link{attribute(e, "Type"), partName(folder, attribute(e, "Target"))}
		}
		return nil
	})
	return out
}

// partName is the name of a file inside, whichever way its writer slants lines.
func partName(folder, name string) string {
	name = strings.ReplaceAll(strings.ToLower(name), `\`, "/")
	if !strings.HasPrefix(name, "/") {
		name = path.Join("/", strings.ToLower(folder), name)
	}
	return path.Clean(name)
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func truth(text string) bool { return text == "1" || text == "true" }

// elements calls with the elements of a file as they begin.
func (b *book) elements(part string, begin func(xml.StartElement) error) error {
	return b.tokens(part, func(t xml.Token) error {
		if e, ok := t.(xml.StartElement); ok {
			return begin(e)
		}
		return nil
	})
}

// tokens reads a file inside as XML; io.EOF says that what follows does not matter.
// It is read all the same: the checksum stands behind it.
func (b *book) tokens(part string, next func(xml.Token) error) error {
	f := b.files[part]
	if f == nil {
		return fmt.Errorf("it has no %s", part)
	}
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	all := &budget{in, &b.left}
	d := xml.NewDecoder(all)
	for open := 0; ; {
		t, err := d.RawToken()
		if err == io.EOF && open > 0 {
			return io.ErrUnexpectedEOF
		}
		switch t.(type) {
		case xml.StartElement:
			open++
		case xml.EndElement:
			open--
		}
		if err == nil {
			err = next(t)
		}
		if err == io.EOF {
			_, err = io.Copy(io.Discard, all)
			return err
		}
		if err != nil {
			return err
		}
	}
}

// budget is a reader that gives no more than is left.
type budget struct {
	from io.Reader
	left *int64
}

func (b *budget) Read(p []byte) (int, error) {
	n, err := b.from.Read(p)
	if *b.left -= int64(n); *b.left < 0 {
		return 0, errTooLarge
	}
	return n, err
}

// day turns the number of a date into the date.
func (b *book) day(serial float64) (time.Time, bool) {
	if serial < 1 || serial > 200_000 || math.IsNaN(serial) {
		return time.Time{}, false
	}
	at, err := excelize.ExcelDateToTime(math.Floor(serial), b.era)
	return at, err == nil
}

// wanted are the sheets to read.
func (b *book) wanted() (out []sheet) {
	want := b.reader.options.Sheet
	var names []string
	for _, s := range b.sheets {
		names = append(names, s.name)
		if want != "" && strings.EqualFold(s.name, want) {
			return []sheet{s}
		}
		if want == "" && !s.hidden {
			out = append(out, s)
		}
	}
	if want != "" {
		b.reader.bad(Cell{At: b.reader.whole()}, fmt.Sprintf("the workbook has no sheet %q", want), "its sheets are "+strings.Join(names, ", "))
	}
	return out
}
