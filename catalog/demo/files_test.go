package demo

import (
	"io/fs"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

// cars reads the embedded vehicles.
func cars(t *testing.T) []catalog.Vehicle {
	t.Helper()
	vehicles, report := catalog.LoadVehiclesFS(FS, Vehicles)
	clean(t, report)
	return vehicles
}

// TestCars holds three cars that can be computed, and that what they do not
// state is said to be assumed.
func TestCars(t *testing.T) {
	vehicles := cars(t)
	if len(vehicles) != 3 {
		t.Fatalf("%d cars, want three", len(vehicles))
	}
	for _, v := range vehicles {
		if err := v.Body.Check(); err != nil {
			t.Error(err)
		}
		if v.Alternator <= 0 || v.Standby <= 0 || v.CableRun <= 0 || v.Space == (catalog.Size3{}) {
			t.Errorf("%s: alternator %g A, standby %g A, cable %g m, space %v: one is missing",
				v.Name, v.Alternator, v.Standby, v.CableRun, v.Space)
		}
	}
	hatch, _ := catalog.FindVehicle("five-door hatch", vehicles)
	said := func(v catalog.Vehicle, what string) bool {
		return slices.ContainsFunc(v.Assumed, func(s string) bool { return strings.Contains(s, what) })
	}
	if !said(hatch, "cable") || !said(hatch, "inside dimensions") {
		t.Errorf("the hatch states neither cable nor dimensions, and assumes only %q", hatch.Assumed)
	}
	sedan, _ := catalog.FindVehicle("small sedan", vehicles)
	if said(sedan, "cable") || said(sedan, "free for boxes") {
		t.Errorf("the sedan states cable and space, and still assumes %q", sedan.Assumed)
	}
	suv, _ := catalog.FindVehicle("family SUV", vehicles)
	if _, ok := suv.Body.Place("second row"); !ok {
		t.Errorf("the SUV has no place in its second row: %v", suv.Body.PlaceNames())
	}
}

// TestCustomers holds the briefs: they read, all they name exists, and
// each asks for what it is there to show.
func TestCustomers(t *testing.T) {
	c, vehicles := shelves(t), cars(t)
	want := []struct {
		file  string
		cap   int64 // whole dollars
		goal  catalog.Goal
		front catalog.FrontRule
	}{
		{"210-grow.yaml", 210, catalog.GoalReading, catalog.FrontKeep},
		{"250-reading.yaml", 250, catalog.GoalReading, catalog.FrontKeep},
		{"350-built.yaml", 350, catalog.GoalReading, catalog.FrontKeep},
		{"500-no-room.yaml", 500, catalog.GoalReading, catalog.FrontKeep},
		{"800-music.yaml", 800, catalog.GoalMusic, catalog.FrontReplace},
		{"1500-one-shop.yaml", 1500, catalog.GoalReading, catalog.FrontEither},
	}
	if found := names(t, Briefs); len(found) != len(want) {
		t.Errorf("the briefs are %v, want %d", found, len(want))
	}
	for _, w := range want {
		b, report := catalog.LoadBriefFS(FS, Briefs+"/"+w.file)
		clean(t, report)
		_, report = catalog.CheckBrief(b, c, vehicles)
		clean(t, report)
		if b.Cap.Minor != w.cap*100 || b.Cap.Currency != "USD" || b.Goal != w.goal || b.Front != w.front {
			t.Errorf("%s: cap %v, goal %v, front %v", w.file, b.Cap, b.Goal, b.Front)
		}
	}
}

// TestNamedFiles holds that what the package names is there.
func TestNamedFiles(t *testing.T) {
	for _, name := range []string{Parts, Vehicles, Briefs, Builds, Brief, BriefWithoutBuild, Build} {
		if _, err := fs.Stat(FS, name); err != nil {
			t.Error(err)
		}
	}
}

// TestBuilds holds that the ready builds read and that all they name exists.
func TestBuilds(t *testing.T) {
	c, vehicles := shelves(t), cars(t)
	found := names(t, Builds)
	if len(found) < 2 {
		t.Errorf("the builds are %v, want two at least", found)
	}
	for _, name := range found {
		b, report := catalog.LoadBuildFS(FS, Builds+"/"+name)
		clean(t, report)
		_, report = catalog.CheckBuild(b, c, vehicles)
		clean(t, report)
	}
}

// TestNoRoomForTheFifteen holds why the brief without a build has none: its
// subwoofer goes into boxes of which none goes into its space, while boxes for
// smaller drivers do.
func TestNoRoomForTheFifteen(t *testing.T) {
	c := shelves(t)
	b, report := catalog.LoadBriefFS(FS, BriefWithoutBuild)
	clean(t, report)
	if len(b.Must) != 1 {
		t.Fatalf("must: %v, want one part", b.Must)
	}
	wanted := c.Part(b.Must[0].SKU).Subwoofer.Card.Size
	sides := func(s catalog.Size3) []float64 {
		all := []float64{s.Width, s.Depth, s.Height}
		slices.Sort(all)
		return all
	}
	space := sides(b.Space)
	forIt, small := 0, 0
	for _, p := range c.Parts {
		if p.Enclosure == nil {
			continue
		}
		fits := true
		for i, side := range sides(p.Enclosure.Outside) {
			fits = fits && side <= space[i]
		}
		switch {
		case near(p.Enclosure.Hole, wanted):
			forIt++
			if fits {
				t.Errorf("%s holds %s and fits the space", p.SKU, b.Must[0].SKU)
			}
		case fits:
			small++
		}
	}
	if forIt == 0 || small == 0 {
		t.Errorf("%d boxes for the subwoofer and %d others that fit the space, want some of both", forIt, small)
	}
}

// names lists the files of a folder of FS.
func names(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := fs.ReadDir(FS, folder)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, entry := range entries {
		found = append(found, entry.Name())
	}
	return found
}

// clean reports everything that a report holds as a failure.
func clean(t *testing.T, report *catalog.Report) {
	t.Helper()
	if report == nil {
		return
	}
	for _, problem := range report.Problems {
		t.Errorf("%s %v", problem.Severity, problem)
	}
}
