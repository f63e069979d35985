package counter

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/readings"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/metering"
	"loudfor/optimizer/learning"
)

// The bay: what the meters showed, typed in or uploaded, beside what was
// foretold; what the car taught, and which reading to take next. All of it comes
// from the code behind the meter commands.

const (
	meterRows  = 3 // of the form
	meterSteps = 4 // of the plan
)

// meterAnswer is all that is said of the readings of one car.
type meterAnswer struct {
	job      *metering.Job
	compared metering.Compared
	learned  metering.Learned
	planned  metering.Planned
}

type meterBody struct {
	NoBook   bool
	Vehicles []choice
	Vehicle  string
	Build    string
	Quote    string
	Day      string
	Places   []string
	Openings []string
	Place    string
	Opened   string
	Rows     []meterRow
	Wrong    []string // what a form said no to
	Count    int
	Added    string
	Trouble  []string // why the readings cannot be held against anything
	Computed bool
	Compared []comparedLine
	Chart    *drawn
	Small    *drawn
	Findings []string
	Causes   []causeLine
	Learned  []learnedLine
	Cross    string
	Next     []nextLine
	NextFor  string
	NextNow  string
}

// meterRow is one row of the form, with what was typed.
type meterRow struct {
	Number                                             int
	Place, Openings, Hz, DB, Volts, Amps, Supply, Note string
}

type comparedLine struct {
	ID                           int64
	Day, Where, Hz, DB, Foretold string
	Off                          string
	Outside                      bool
	Impedance, Power             string
}

type causeLine struct {
	Words, Odds, Check string
}

type learnedLine struct{ Name, Before, Now, Verdict, By string }

type nextLine struct{ Place, Openings, Hz, Known string }

// bay is the car, the build and the stock that a page is about.
type bay struct {
	stock   *stock
	vehicle string
	build   string // of new readings, in words
	place   string // of new readings, as the brief has it
	opened  string
	quote   int64
	quoted  metering.Quoted // its build
}

// bayOf reads the query or the form: a quote of the book, or a car.
func (c *Counter) bayOf(v *visit, query url.Values) (b bay, err error) {
	b.stock = v.stock
	if text := one(query, keyQuoted); text != "" && c.book != nil {
		id, err := strconv.ParseInt(text, 10, 64)
		if err != nil {
			return b, unknownError{"there is no such quote in the book"}
		}
		q, err := c.book.Quote(v.context(), id)
		if err != nil {
			return b, bookFault(err)
		}
		job, err := c.book.Job(v.context(), q.Job)
		if err != nil {
			return b, bookFault(err)
		}
		brief, problems := job.Load()
		if problems.Err() != nil {
			return b, problems.Err()
		}
		b.stock, b.vehicle, b.quote = v.stock.beside(job), brief.Vehicle, id
		b.quoted = metering.BuildOf(q)
		b.build, b.place, b.opened = b.quoted.Words, brief.Place, brief.Openings
		if !b.quoted.In(v.stock.Catalogue) {
			// A part has left the catalogue: the one of that day knows it.
			then, err := c.book.Catalogue(v.context(), q.Hash)
			if err != nil {
				return b, err
			}
			with := *b.stock
			with.Catalogue = then
			b.stock = &with
		}
		return b, nil
	}
	q, err := c.questionOf(v, query)
	if err != nil {
		return b, err
	}
	b.stock, b.vehicle, b.build = q.stock, q.job.Brief.Vehicle, clipTo(one(query, "build"), mostText)
	b.place, b.opened = q.job.Brief.Place, q.job.Brief.Openings
	if name := one(query, "car"); name != "" {
		b.vehicle = clipTo(name, mostText)
	}
	return b, nil
}

func clipTo(text string, most int) string {
	r := []rune(visible(text))
	return string(r[:min(len(r), most)])
}

func (b bay) link(more ...string) string {
	values := url.Values{"car": {b.vehicle}}
	if b.quote != 0 {
		values = url.Values{keyQuoted: {strconv.FormatInt(b.quote, 10)}}
	} else if b.build != "" {
		values.Set("build", b.build)
	}
	for i := 0; i+1 < len(more); i += 2 {
		values.Set(more[i], more[i+1])
	}
	return pathMeter + "?" + values.Encode()
}

func (c *Counter) showMeter(v *visit) error {
	b, err := c.bayOf(v, v.URL.Query())
	if err != nil {
		return err
	}
	body := c.meterBody(v, b)
	body.Added = clipped(one(v.URL.Query(), "added"))
	body.Rows = emptyRows(meterRows)
	return c.sendMeter(v, b, body)
}

func emptyRows(n int) (rows []meterRow) {
	for i := range n {
		rows = append(rows, meterRow{Number: i + 1})
	}
	return rows
}

// sendMeter adds what is said of the readings that the book has.
func (c *Counter) sendMeter(v *visit, b bay, body *meterBody) error {
	p := c.page(v, nil, "meter", "Meter")
	if c.book != nil {
		list, err := metering.Booked(v.context(), c.book, "")
		if err != nil {
			return err
		}
		body.Vehicles = vehicleChoices(b, list)
		list = slices.DeleteFunc(list, func(r readings.Reading) bool { return !strings.EqualFold(r.Vehicle, b.vehicle) })
		if body.Count = len(list); len(list) > 0 {
			if p.Waits, err = c.answerMeter(v, b, list, body); err != nil {
				return err
			}
			p.Refresh = p.Waits != ""
		}
	}
	p.Body = body
	return c.show(v, p, "meter")
}

func vehicleChoices(b bay, list []readings.Reading) (all []choice) {
	names := catalog.VehicleNames(b.stock.Vehicles)
	for _, r := range list {
		if !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, r.Vehicle) }) {
			names = append(names, r.Vehicle)
		}
	}
	for _, name := range names {
		if car, ok := catalog.FindVehicle(name, b.stock.Vehicles); !ok || !car.OpenField {
			all = append(all, choice{name, name, strings.EqualFold(name, b.vehicle)})
		}
	}
	return all
}

func (c *Counter) meterBody(v *visit, b bay) *meterBody {
	body := &meterBody{NoBook: c.book == nil, Vehicle: b.vehicle, Build: b.build, Day: c.options.Now().Format("2006-01-02"), Place: b.place, Opened: b.opened}
	if b.quote != 0 {
		body.Quote = strconv.FormatInt(b.quote, 10)
	}
	if car, ok := catalog.FindVehicle(b.vehicle, b.stock.Vehicles); ok && !car.OpenField {
		body.Places = car.Body.PlaceNames()
		body.Openings = append(car.Body.OpeningNames(), car.Body.DerivedNames()...)
	}
	return body
}

// shelf is the stock for the meter's code.
func (b bay) shelf() metering.Shelf {
	return metering.Shelf{Catalogue: b.stock.Catalogue, Vehicles: b.stock.Vehicles, Invented: b.stock.Invented}
}

func (b bay) request(c *Counter) metering.Request {
	r := metering.Request{Inputs: c.options.Request}
	r.Inputs.Vehicle = b.vehicle
	return r
}

// answerMeter fills in what the readings say, or gives what to wait for.
func (c *Counter) answerMeter(v *visit, b bay, list []readings.Reading, body *meterBody) (waits string, err error) {
	sum := sha256.New()
	fmt.Fprintf(sum, "%d %d %s %+v", v.stock.generation, b.quote, b.vehicle, stripped(list))
	key := "meter " + hex.EncodeToString(sum.Sum(nil))
	compute := func(ctx context.Context) (*meterAnswer, error) { return meterAnswerOf(ctx, b, b.request(c), list) }
	a, done, err := c.metered.begin(key, compute)
	if err == nil && !done {
		ctx, stop := context.WithTimeout(v.context(), shortly)
		defer stop()
		if a, err = c.metered.get(ctx, key, compute); gone(err) {
			return key, nil
		}
	}
	if refused := (*report.Failure)(nil); errors.As(err, &refused) {
		body.Trouble = errorLines(err)[1:]
		return "", nil
	}
	if err != nil {
		body.Trouble = []string{err.Error()}
		return "", nil
	}
	v.voice.fillMeter(body, a)
	return "", nil
}

// stripped are readings without the places where they were read.
func stripped(list []readings.Reading) []string {
	var out []string
	for _, r := range list {
		out = append(out, fmt.Sprint(r.ID, r.Build, r.Quote, r.Place, r.Openings, r.Frequency, r.Level, r.Tolerance, r.Volts, r.Amps, r.Supply))
	}
	return out
}

func meterAnswerOf(ctx context.Context, b bay, r metering.Request, list []readings.Reading) (*meterAnswer, error) {
	job, err := metering.Of(ctx, b.shelf(), r, list)
	if err != nil {
		return nil, err
	}
	a := &meterAnswer{job: job}
	if a.compared, err = job.Compare(); err != nil {
		return nil, err
	}
	if a.learned, err = job.Learn(); err != nil {
		return nil, err
	}
	a.planned, err = job.Plan("", "", meterSteps)
	return a, err
}

func (v voice) fillMeter(body *meterBody, a *meterAnswer) {
	body.Computed = true
	for i, one := range a.compared.Prior.Compare() {
		r := &a.job.Readings[i]
		line := comparedLine{ID: r.ID, Day: r.Date.String(), Where: r.Place + ", " + r.Openings, Hz: v.Figure(r.Frequency, 0), DB: v.DB(r.Level),
			Foretold: v.Join(v.DB(one.Expected.DB), v.DB(one.Band)), Off: v.Signed(one.OffDB), Outside: one.Outside}
		if one.Expected.Ohms > 0 && r.Amps > 0 {
			line.Impedance = fmt.Sprintf("%s / %s %s", v.Figure(r.Volts/r.Amps, 2), v.Figure(one.Expected.Ohms, 2), v.Ohm())
			watts := one.Expected.Watts
			if one.FullVolts > 0 {
				watts = one.FullWatts
			}
			line.Power = fmt.Sprintf("%s / %s VA", v.Figure(r.Volts*r.Amps, 0), v.Figure(watts, 0))
		}
		body.Compared = append(body.Compared, line)
	}
	if band := a.compared.Band; len(band.Hz) > 0 {
		body.Chart, body.Small = v.meterChart(a, false), v.meterChart(a, true)
	}
	for _, f := range a.compared.Prior.Findings() {
		body.Findings = append(body.Findings, fmt.Sprintf("%s: %s. Points to: %s.", f.Words, f.Figures, f.Points))
	}
	for _, cause := range learning.Told(a.compared.Causes) {
		line := causeLine{Words: cause.Words, Check: cause.Check}
		if cause.Kind != learning.Ordinary {
			line.Odds = facts.Odds(cause.Gain) + " times likelier than ordinary errors"
		}
		body.Causes = append(body.Causes, line)
	}
	for _, x := range a.learned.Fit.Parameters() {
		if x.Verdict != learning.Stayed {
			body.Learned = append(body.Learned, learnedLine{x.Name, facts.Valued(x.Before, x.SpreadBefore, x.Unit), facts.Valued(x.After, x.SpreadAfter, x.Unit), x.Verdict.String(), x.By})
		}
	}
	if rms := a.learned.Fit.Cross.RMS; rms > 0 {
		body.Cross = v.Figure(rms, 1)
	}
	body.NextFor, body.NextNow = a.planned.Words, v.Figure(a.planned.Before, 1)
	for _, s := range a.planned.Steps {
		body.Next = append(body.Next, nextLine{s.Setting.Place, s.Setting.Openings, v.Figure(s.Setting.Hz, 0), v.Figure(s.Band, 1)})
	}
}

// meterChart draws the readings over the band that was foretold.
func (v voice) meterChart(a *meterAnswer, small bool) *drawn {
	band := a.compared.Band
	c := band.Chart(band.Title, a.job.Study.Readings)
	c.Words = band.Title + ": the readings over the band in which nine of ten were foretold; the figures stand in the table."
	for i := range c.Marks {
		c.Marks[i].Size = 6
	}
	frame := chart.Frame{Width: 860, Height: 380, Left: 52, Right: 750, Top: 30, Bottom: 336}
	if small {
		frame = chart.Frame{Width: 400, Height: 340, Left: 42, Right: 310, Top: 30, Bottom: 296}
	}
	return draw(c, frame, c.Words, "response", small)
}
