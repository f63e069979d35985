package counter

import (
	"encoding/csv"
	"errors"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/readings"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/metering"
)

// Readings on their way into the job book: rows of the form become a file of
// readings, so that one reader, with its words, is enough for both.

// addReadings books what was typed or uploaded, or forgets a reading.
func (c *Counter) addReadings(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	file, err := v.received()
	if err != nil {
		return err
	}
	b, err := c.bayOf(v, v.PostForm)
	if err != nil {
		return err
	}
	if v.PostForm.Get("do") == "forget" {
		id, err := strconv.ParseInt(v.PostForm.Get("reading"), 10, 64)
		if err != nil {
			return unknownError{"there is no such reading"}
		}
		if err := c.book.RemoveReadings(v.context(), id); err != nil && !errors.Is(err, book.ErrNone) {
			return err
		}
		return v.seeOther(b.link())
	}
	rows := typedRows(v.PostForm)
	if file.Name == "" {
		if file = typedReadings(b, v.PostForm, rows); file.Name == "" {
			return emptyForm{"no reading was typed, and no file was chosen"}
		}
	}
	n, err := c.bookReadings(v, b, file)
	if refused, usage := (*report.Failure)(nil), (inputs.UsageError{}); errors.As(err, &refused) || errors.As(err, &usage) {
		body := c.meterBody(v, b)
		body.Wrong, body.Rows = errorLines(err)[1:], rows
		return c.sendMeter(v, b, body)
	}
	if err != nil {
		return err
	}
	return v.seeOther(b.link("added", strconv.Itoa(n)))
}

// bookReadings does what the command meter add does.
func (c *Counter) bookReadings(v *visit, b bay, file arrived) (n int, err error) {
	list, problems := readings.Read(file.Name, file.Content)
	if err := problems.Err(); err != nil {
		return 0, err
	}
	for i := range list {
		// A build that is a file is a file of this machine, which no visitor names.
		if ext := strings.ToLower(filepath.Ext(list[i].Build)); ext == ".yaml" || ext == ".yml" {
			problems.Add(list[i].Problem(catalog.Error, "build", "the build is the name of a file", "write its parts, such as OR-M3, TM-12V x 2, KE-D12; or add the readings with the command meter add"))
		}
	}
	if err := problems.Err(); err != nil {
		return 0, err
	}
	r := b.request(c)
	r.Inputs.Vehicle = ""
	if b.quote != 0 && file.Name == typedName {
		for i := range list {
			list[i].Quote = b.quote
			b.quoted.Lay(&list[i])
		}
	}
	job, err := metering.Of(v.context(), b.shelf(), r, list)
	if err != nil {
		return 0, err
	}
	added, err := readings.Book(v.context(), c.book, job.InWords())
	for _, a := range added {
		if !a.Known {
			n++
		}
	}
	return n, err
}

// typedName is the file that the form's rows become: messages name it.
const typedName = "the form"

// columns of the form, as a file of readings names them.
var meterColumns = []string{"place", "openings", "frequency", "level", "clamp_voltage", "clamp_current", "supply_voltage", "note"}

func (r *meterRow) cells() []*string {
	return []*string{&r.Place, &r.Openings, &r.Hz, &r.DB, &r.Volts, &r.Amps, &r.Supply, &r.Note}
}

// typedRows are the rows of the form.
func typedRows(form url.Values) []meterRow {
	rows := emptyRows(meterRows)
	for i := range rows {
		for k, cell := range rows[i].cells() {
			if list := form[meterColumns[k]]; i < len(list) {
				*cell = clipTo(strings.TrimSpace(list[i]), mostText)
			}
		}
	}
	return rows
}

// typedReadings is the form as a file of readings: one reader for both.
func typedReadings(b bay, form url.Values, rows []meterRow) arrived {
	var text strings.Builder
	w := csv.NewWriter(&text)
	_ = w.Write(append([]string{"date", "vehicle", "build"}, meterColumns...)) // a string takes whatever is written to it
	some := false
	for i := range rows {
		r := &rows[i]
		if r.Hz == "" && r.DB == "" {
			continue
		}
		some = true
		line := []string{clipped(one(form, "date")), b.vehicle, b.build}
		for _, cell := range r.cells() {
			line = append(line, *cell)
		}
		_ = w.Write(line)
	}
	w.Flush()
	if !some {
		return arrived{}
	}
	return arrived{typedName, []byte(text.String())}
}
