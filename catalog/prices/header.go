package prices

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/units"
)

// The columns of a list are found by their names, wherever they stand. A list
// may have a title above its header, and columns that are of no use here
// (descriptions, weights): those are passed over with a remark, so that a
// column under a name that nobody thought of does not vanish in silence. A
// name that is almost one of the known is an error: it is a slip.

// column is what a column of a list is for.
type column int

const (
	columnSKU column = iota
	columnPrice
	columnStore
	columnStock
	columnDate
	columnCurrency
	columnCount
)

// columnWords are the names of the columns; the first is the one to offer.
// Common practice, no source.
var columnWords = [columnCount][]string{
	columnSKU: {"SKU", "item", "item number", "item no", "item code", "part", "part number", "part no", "article", "article number", "article no",
		"code", "product code", "model number", "stock code", "stock number", "id"},
	columnPrice:    {"price", "unit price", "net price", "sale price", "selling price", "our price", "cost", "unit cost", "each", "amount"},
	columnStore:    {"store", "shop", "seller", "supplier", "vendor", "dealer", "branch", "location"},
	columnStock:    {"stock", "in stock", "on hand", "quantity", "qty", "quantity on hand", "qty on hand", "available", "availability", "pieces", "pcs", "inventory"},
	columnDate:     {"date", "valid from", "valid as of", "as of", "from", "since", "effective", "effective date", "price date", "updated", "last updated", "day"},
	columnCurrency: {"currency", "currency code", "curr", "ccy"},
}

func (c column) String() string { return columnWords[c][0] }

// Columns lists the columns that are read with all their names, for help
// texts; the first name of each is the usual one.
func Columns() [][]string {
	out := make([][]string, columnCount)
	for i := range out {
		out[i] = slices.Clone(columnWords[i])
	}
	return out
}

// columnNamed finds a column by its tidied name.
var columnNamed = func() map[string]column {
	m := map[string]column{}
	for c, words := range columnWords {
		for _, w := range words {
			m[tidied(w)] = column(c)
		}
	}
	return m
}()

// tidied is a name without the differences that mean nothing.
func tidied(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return strings.ContainsRune(" \t\n\r\u00a0_-.:#*", r)
	}), " ")
}

// priceIn is a name of the price column that names the currency as well:
// "Price (USD)", "price in EUR", "unit price, USD".
var priceIn = expression.Late(`(?i)^(.*?)[\s,_-]*(?:\bin\s+)?[(\[]?\s*\b([A-Za-z]{3})\s*[)\]]?$`)

// columnOf tells what a column is for by its name, and the currency that a
// price column names.
func columnOf(name string) (c column, currency string, ok bool) {
	if c, ok = columnNamed[tidied(name)]; ok {
		return c, "", true
	}
	if m := priceIn().FindStringSubmatch(strings.TrimSpace(name)); m != nil {
		code := strings.ToUpper(m[2])
		if c, ok = columnNamed[tidied(m[1])]; ok && c == columnPrice && slices.Contains(units.CurrencyCodes(), code) {
			return c, code, true
		}
	}
	return 0, "", false
}

// header is where the columns stand.
type header struct {
	at       [columnCount]int // number of the column from 0; -1: there is none
	width    int              // columns with a name
	currency string
}

func (h *header) has(c column) bool { return h.at[c] >= 0 }

// isHeader tells whether a row names a SKU column and one more: two names
// hardly stand in one row of anything else.
func isHeader(row []grid.Cell) bool {
	var seen [columnCount]bool
	for _, c := range row {
		if k, _, ok := columnOf(c.Text); ok {
			seen[k] = true
		}
	}
	return seen[columnSKU] && (seen[columnPrice] || seen[columnStock] || seen[columnDate] || seen[columnStore])
}

// readHeader finds the columns and reports what is wrong with them.
func (t *table) readHeader(row []grid.Cell) bool {
	h := header{}
	for c := range h.at {
		h.at[c] = -1
	}
	before := t.errors()
	var unknown []grid.Cell
	for i, cell := range row {
		name := strings.TrimSpace(cell.Text)
		if name == "" {
			continue
		}
		h.width = i + 1
		c, currency, ok := columnOf(name)
		switch {
		case !ok:
			unknown = append(unknown, cell)
		case h.at[c] >= 0:
			first := row[h.at[c]].At
			t.bad(cell, fmt.Sprintf("a second column for the %s: %q", c, name), "keep one of the two, or give the other one another name").Related = &first
		default:
			h.at[c] = i
			if currency != "" {
				h.currency = currency
			}
		}
	}
	for _, cell := range unknown {
		t.unknownColumn(cell, &h)
	}
	if t.errors() == before {
		t.missingColumns(row, &h)
	}
	t.header = h
	return t.errors() == before
}

func (t *table) unknownColumn(cell grid.Cell, h *header) {
	name := strings.TrimSpace(cell.Text)
	for c := range columnCount {
		if h.has(c) {
			continue
		}
		if near := units.Nearest(tidied(name), columnWords[c][:1]); near != "" {
			t.bad(cell, fmt.Sprintf("%q is not the name of a column", units.Clip(name)), fmt.Sprintf("did you mean %q?", c))
			return
		}
	}
	t.remark(cell, fmt.Sprintf("the column %q is not read", units.Clip(name)), "the columns that are read are "+known())
}

func (t *table) missingColumns(row []grid.Cell, h *header) {
	if !h.has(columnPrice) && !h.has(columnStock) {
		t.bad(row[0], "the list has neither prices nor stocks", "add a column named price or stock")
	}
	if !h.has(columnDate) && t.options.Date.IsZero() {
		t.bad(row[0], "the list has no dates", "add a column named date, such as 2025-03-09 in each row, or state the day for the whole list: --date 2025-03-09")
	}
}

func known() string {
	var names []string
	for c := range columnCount {
		names = append(names, c.String())
	}
	return strings.Join(names, ", ")
}
