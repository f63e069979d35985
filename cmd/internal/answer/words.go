package answer

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// The words of an answer, for other forms of it than a terminal's page: what
// is said of a build must be the same wherever it is said.

// Where is the place and what is open: "at the dash, doors open".
func Where(place, openings string) string { return where(place, openings) }

// Limit is what keeps a build's reading from going higher, with its figure.
func Limit(b optimizer.Build) string { return limitWords(b) }

// Front is what plays in front and what drives it.
func Front(f optimizer.Front) string { return frontWords(f) }

// FrontRule is what happens to the front speakers, and what the customer has.
func FrontRule(b catalog.Brief) string { return frontRule(b) }

// Balance says of a build's music which side is the weaker one; empty where
// nothing is known about it.
func Balance(b optimizer.Build) string { return musicWords(b) }

// Bought names what has to be bought.
func Bought(lines []optimizer.Line) string { return partWords(lines) }

// Change says what one set of parts changes against another.
func Change(before, after []optimizer.Line) string { return change(before, after) }

// Grouped joins remarks about the same part from the same source.
func Grouped(remarks []string) []string { return grouped(remarks) }

// Sentence makes a remark start and end as a sentence does.
func Sentence(text string) string { return sentence(text) }

// Reason is why combinations need not be computed.
func Reason(r optimizer.Reason) string { return reasonWords(r) }

// Cautions are those that belong beside every installation.
func Cautions() []string { return cautions }

// Three is a number with three significant digits and no exponent.
func Three(value float64) string { return three(value) }

// Fixed is a number with a number of decimals, never "-0".
func Fixed(value float64, decimals int) string { return fixed(value, decimals) }

// Plain is a number without needless zeros, for values that somebody stated.
func Plain(value float64) string { return plain(value) }

// Hertz is a frequency.
func Hertz(hz float64) string { return hertz(hz) }

// Banded is a level with the half-width of its band, if one was drawn.
func Banded(db, band float64) string { return banded(db, band) }
