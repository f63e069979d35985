package catalog

import "loudfor/catalog/report"

// Problems are shared with the packages that read the files; these are the
// same types under the names that users of the catalogue know.
type (
	// Position is a place in a user's file, counted from 1; the zero value
	// means that the value came from no file.
	Position = report.Position
	// Problem is one thing that is wrong in a file.
	Problem = report.Problem
	// Report is everything that is wrong, sorted by file, line and column.
	Report = report.Report
	// Severity tells errors, warnings and remarks apart.
	Severity = report.Severity
)

// The severities, the worst first.
const (
	Error   = report.Error
	Warning = report.Warning
	Info    = report.Info
)
