package curve

import (
	"encoding/csv"
	"math"
	"reflect"
	"strings"
	"testing"

	"loudfor/model/bass"
)

func points() []bass.Operation {
	return []bass.Operation{
		{Hz: 20, Load: 8.25, Phase: math.Pi / 4, Travel: 0.009, PortSpeed: 12.5, Level: 110.12345, Limit: bass.LimitTravel},
		{Hz: 25, Load: 9, Level: 112, Limit: bass.LimitTravel},
		{Hz: 30, Load: 10, Level: 115, Limit: bass.LimitVoltage},
		{Hz: 40, Load: 11, Level: 111, Limit: bass.LimitTravel},
	}
}

func TestCSV(t *testing.T) {
	text, err := CSV(points())
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ", "); got != "frequency_hz, impedance_ohm, impedance_phase_deg, excursion_mm, port_speed_m_s, level_db, limit" {
		t.Errorf("header %s", got)
	}
	if got := strings.Join(rows[1], " "); got != "20 8.25 45 9 12.5 110.123 cone travel" {
		t.Errorf("first row %s", got)
	}
	if len(rows) != 5 {
		t.Errorf("%d rows", len(rows))
	}
}

func TestRanges(t *testing.T) {
	want := []Range{
		{From: 20, To: 25, Limit: bass.LimitTravel, Least: 110.12345, Most: 112},
		{From: 30, To: 30, Limit: bass.LimitVoltage, Least: 115, Most: 115},
		{From: 40, To: 40, Limit: bass.LimitTravel, Least: 111, Most: 111},
	}
	if got := Ranges(points()); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if Ranges(nil) != nil {
		t.Error("ranges of nothing")
	}
}

// Each limit has a letter of its own, or the chart would lie.
func TestMarksDiffer(t *testing.T) {
	seen := map[rune]bass.Limit{}
	for l := bass.LimitVoltage; l <= bass.LimitNone; l++ {
		if other, twice := seen[Mark(l)]; twice {
			t.Errorf("%v and %v are both %c", other, l, Mark(l))
		}
		seen[Mark(l)] = l
	}
}
