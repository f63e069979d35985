package refresh

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/parquet-go/parquet-go"

	"loudfor/catalog/writing"
	"loudfor/cmd/library"
)

// Row is one job as the results show it, in every format.
type Row struct {
	Shop      string  `json:"shop" parquet:"shop,dict"`
	Car       string  `json:"car" parquet:"car,dict"`
	Brief     string  `json:"brief" parquet:"brief,dict"`
	Cap       string  `json:"cap" parquet:"cap,dict"`
	Goal      string  `json:"goal" parquet:"goal,dict"`
	Place     string  `json:"place" parquet:"place,dict"`
	Openings  string  `json:"openings" parquet:"openings,dict"`
	Outcome   string  `json:"outcome" parquet:"outcome,dict"`
	Build     string  `json:"build" parquet:"build"`
	Price     string  `json:"price" parquet:"price"`
	Currency  string  `json:"currency" parquet:"currency,dict"`
	Level     float64 `json:"level_db" parquet:"level_db"`
	Band      float64 `json:"band_db" parquet:"band_db"`
	Proof     string  `json:"proof" parquet:"proof,dict"`
	Gap       float64 `json:"gap_db" parquet:"gap_db"`
	Error     string  `json:"error" parquet:"error"`
	Key       string  `json:"key" parquet:"key"`
	Catalogue string  `json:"catalogue_hash" parquet:"catalogue_hash,dict"`
	CarHash   string  `json:"car_hash" parquet:"car_hash,dict"`
	BriefHash string  `json:"brief_hash" parquet:"brief_hash,dict"`
	Program   string  `json:"program_hash" parquet:"program_hash,dict"`
}

// columns are the names of a row's figures, in order.
var columns = []string{"shop", "car", "brief", "cap", "goal", "place", "openings", "outcome", "build", "price", "currency", "level_db", "band_db", "proof", "gap_db", "error", "key", "catalogue_hash", "car_hash", "brief_hash", "program_hash"}

func (r *Row) cells() []string {
	db := func(v float64) string {
		if r.Build == "" {
			return ""
		}
		return fmt.Sprintf("%.3f", v)
	}
	return []string{r.Shop, r.Car, r.Brief, r.Cap, r.Goal, r.Place, r.Openings, r.Outcome, r.Build, r.Price, r.Currency, db(r.Level), db(r.Band), r.Proof, db(r.Gap), r.Error, r.Key, r.Catalogue, r.CarHash, r.BriefHash, r.Program}
}

// row is the i-th job of a group with its answer.
func (g *Group) row(i int, a *library.Answer) Row {
	q := g.Questions[i]
	r := Row{Shop: g.Shop.Name, Car: g.Car, Cap: q.Cap, Goal: q.Goal, Place: q.Place, Openings: q.Openings, Outcome: a.Outcome, Proof: a.Proof, Error: a.Error,
		Key: g.Keys[i], Catalogue: g.Shop.Hash, CarHash: g.CarHash, Program: g.Program}
	if len(g.Briefs) > 0 {
		r.Brief, r.BriefHash = filepath.Base(g.Briefs[q.Brief].Name), g.Briefs[q.Brief].Hash
	}
	if len(a.Parts) > 0 {
		r.Build, r.Price, r.Currency, r.Level, r.Band, r.Gap = a.Build(), a.Price.Decimal(), a.Price.Currency, a.Level, a.Band, a.Gap
	}
	return r
}

// rowsAtOnce is how many rows of Parquet are in memory.
const rowsAtOnce = 10_000

// writeRows writes a file of results whole or not at all, as its ending says.
func writeRows(name string, rows func(func(Row) error) error) error {
	return writing.Replace(name, func(w io.Writer) error {
		switch strings.ToLower(filepath.Ext(name)) {
		case ".csv":
			c := csv.NewWriter(w)
			if err := c.Write(columns); err != nil {
				return err
			}
			if err := rows(func(r Row) error { return c.Write(r.cells()) }); err != nil {
				return err
			}
			c.Flush()
			return c.Error()
		case ".parquet":
			p := parquet.NewGenericWriter[Row](w, parquet.Compression(&parquet.Zstd), parquet.MaxRowsPerRowGroup(rowsAtOnce))
			if err := rows(func(r Row) error {
				_, err := p.Write([]Row{r})
				return err
			}); err != nil {
				return err
			}
			return p.Close()
		}
		e := json.NewEncoder(w)
		e.SetEscapeHTML(false)
		return rows(func(r Row) error { return e.Encode(r) })
	})
}
