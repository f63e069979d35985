package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"loudfor/catalog"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
)

// load reads what a command works on. What is wrong but bearable is said on
// standard error at once; with --json the check command is the place for it.
func (c *console) load(r *inputs.Request) (inputs.Job, error) {
	r.Stdin = c.in
	job, err := heard(c.interrupted, func() (inputs.Job, error) { return inputs.Load(*r) })
	if err == nil && job.Brief.BuildBoxes && r.Build == "" && !r.ReadyMade {
		err = c.buildBoxes(c.interrupted, &job, 0)
	}
	if err == nil {
		c.origin = record.Origin{Demo: job.Invented, From: job.From, Outdated: job.Vehicle.Outdated}
		c.remark(job.Remarks)
	}
	return job, err
}

// buildBoxes adds the boxes that a workshop could build.
func (c *console) buildBoxes(ctx context.Context, job *inputs.Job, workers int) error {
	defer c.working("designing boxes")()
	return job.BuildBoxes(ctx, workers)
}

// page starts an answer for people. Its first line says which files were taken
// that nobody named.
func (c *console) page() *answer.Page { return c.pageOn(c.out) }

func (c *console) pageOn(w io.Writer) *answer.Page {
	page := answer.New(w, c.style)
	page.From(c.origin.From)
	return page
}

// buildOrBrief finds out which of the two a file is; standard input, if it was
// read for that, can be read again.
func (c *console) buildOrBrief(r *inputs.Request, name string) (err error) {
	r.Stdin = c.in
	*r, err = heard(c.interrupted, func() (inputs.Request, error) {
		known := *r
		err := known.BuildOrBrief(name)
		return known, err
	})
	c.in = r.Stdin
	return err
}

// remark says what is odd about files, unless only the answer is wanted.
func (c *console) remark(r *catalog.Report) {
	if r.Count(catalog.Warning) > 0 && !c.quiet {
		c.writeReport(r)
	}
}

// writeJSON writes one document, and nothing else, on standard output.
func (c *console) writeJSON(document any) error { return encodeJSON(c.out, document) }

func encodeJSON(w io.Writer, document any) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(document); err != nil {
		return err
	}
	_, err := w.Write(escaped(text.Bytes()))
	return err
}

// escaped writes the characters that act on a terminal as JSON may write any:
// they stand in strings alone.
func escaped(document []byte) []byte {
	if !bytes.ContainsFunc(document, report.Acts) {
		return document
	}
	var out []byte
	for _, r := range string(document) {
		if report.Acts(r) {
			out = fmt.Appendf(out, `\u%04x`, r)
		} else {
			out = utf8.AppendRune(out, r)
		}
	}
	return out
}

// errInterrupted is the failure of whatever was interrupted before it was done.
var errInterrupted = errors.New("interrupted: there is no answer")

// fail tells an error, as words on standard error and, where JSON is wanted and
// no answer was printed, as a document on standard output; it gives the exit
// status.
func (c *console) fail(err error) int {
	if errors.Is(err, context.Canceled) {
		err = errInterrupted
	}
	status := statusOf(err)
	failure, ofFiles := errorIs[*report.Failure](err)
	if c.json && !c.out.begun {
		document := record.Failure{Schema: record.ErrorSchema, Status: status, Error: report.PlainQuotes(err.Error())}
		if ofFiles {
			document.Problems = failure.Report.Problems
		}
		_ = c.writeJSON(document) // where standard output is gone, the words below remain
	}
	if ofFiles {
		c.writeReport(failure.Report)
		return status
	}
	fmt.Fprintf(c.err, "%s %s\n", c.errStyle.Error("loudfor:"), report.PlainQuotes(err.Error()))
	return status
}

// writeReport shows what is wrong in files, on standard error. A failure to do
// so has nowhere to be told.
func (c *console) writeReport(r *catalog.Report) {
	_ = r.Write(c.err, c.errStyle.On())
}
