package main

import (
	"encoding/json"
	"fmt"
	"io"

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
	job, err := inputs.Load(*r)
	if err == nil && job.Brief.BuildBoxes && r.Build == "" && !r.ReadyMade {
		err = job.BuildBoxes(c.interrupted, 0)
	}
	if err == nil {
		c.origin = record.Origin{Demo: job.Invented, From: job.From}
		c.remark(job.Remarks)
	}
	return job, err
}

// page starts an answer for people. Its first line says which files were taken
// that nobody named.
func (c *console) page() *answer.Page {
	page := answer.New(c.out, c.style)
	page.From(c.origin.From)
	return page
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
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(document)
}

// fail tells an error, as words on standard error and, where JSON is wanted,
// as a document on standard output; it gives the exit status.
func (c *console) fail(err error) int {
	status := statusOf(err)
	failure, ofFiles := errorIs[*report.Failure](err)
	_, answered := errorIs[answeredError](err)
	if c.json && !answered {
		document := record.Failure{Schema: record.ErrorSchema, Status: status, Error: report.PlainQuotes(err.Error())}
		if ofFiles {
			document.Problems = failure.Report.Problems
		}
		if c.writeJSON(document) != nil {
			return status // standard output is gone; the words below remain
		}
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
