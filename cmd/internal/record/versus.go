package record

import (
	"loudfor/catalog"
	"loudfor/cmd/internal/versus"
	"loudfor/optimizer"
)

// VersusSchema names the shape of the answer of "versus".
const VersusSchema = "loudfor/versus/1"

// Versus is the answer of "versus".
type Versus struct {
	Schema   string  `json:"schema"`
	Currency string  `json:"currency"`
	Cap      *Amount `json:"cap,omitempty"`
	Goal     string  `json:"goal"`
	Vehicle  string  `json:"vehicle"`
	Origin
	Builds []VersusBuild `json:"builds"`
	Spots  []Spot        `json:"spots"`
}

// VersusBuild is one of the builds, at the brief's place.
type VersusBuild struct {
	Name string `json:"name"`
	Build
	FrontDB   Figure            `json:"front_db,omitempty"`
	CurrentA  Figure            `json:"current_a"`
	Controls  map[string]string `json:"controls"`
	OverCap   *Amount           `json:"over_cap,omitempty"`
	MusicBand Figure            `json:"music_band_db,omitempty"`
}

// Spot is one place with one set of openings, and the readings there, in the
// order of the builds.
type Spot struct {
	Place    string        `json:"place"`
	Openings string        `json:"openings"`
	Readings []SpotReading `json:"readings"`
}

// SpotReading is what one build does at a spot. Where the brief ranks by music
// the difference is that of the music level.
type SpotReading struct {
	DB         Figure      `json:"db"`
	BandDB     Figure      `json:"band_db,omitempty"`
	Hz         Figure      `json:"hz"`
	Difference *Difference `json:"difference,omitempty"` // to the first build
	Tie        bool        `json:"tie"`
}

// OfVersus is the document of a comparison.
func OfVersus(b catalog.Brief, v catalog.Vehicle, from Origin, all versus.Versus) Versus {
	doc := Versus{Schema: VersusSchema, Currency: all.Here[0].Cost.Currency, Goal: goal(b.Goal), Vehicle: v.Name, Origin: from, Spots: []Spot{}}
	if b.Cap.Minor > 0 {
		cap := money(b.Cap)
		doc.Cap = &cap
	}
	for i, build := range all.Here {
		one := VersusBuild{Name: all.Rivals[i].Name, Build: ofBuild(build), CurrentA: Number(build.Demand),
			Controls: map[string]string{}, MusicBand: band(build.Music.Band)}
		one.Rank = i + 1
		if i > 0 {
			one.Difference = difference(build.Difference)
		}
		if build.Front.DB > 0 {
			one.FrontDB = Level(build.Front.DB)
		}
		if b.Cap.Minor > 0 && b.Cap.Currency == build.Cost.Currency && build.Cost.Minor > b.Cap.Minor {
			over := money(catalog.Money{Minor: build.Cost.Minor - b.Cap.Minor, Currency: b.Cap.Currency})
			one.OverCap = &over
		}
		for _, c := range versus.Controls {
			one.Controls[c.Key] = c.Has(build)
		}
		doc.Builds = append(doc.Builds, one)
	}
	for _, s := range all.Spots {
		doc.Spots = append(doc.Spots, Spot{s.Place, s.Openings, spotReadings(s.Builds)})
	}
	return doc
}

func spotReadings(builds []optimizer.Build) (out []SpotReading) {
	for i, b := range builds {
		r := SpotReading{DB: Level(b.Reading.DB), BandDB: band(b.Reading.Band), Hz: Number(b.Reading.Hz), Tie: b.Tie}
		if i > 0 {
			r.Difference = difference(b.Difference)
		}
		out = append(out, r)
	}
	return out
}

// VersusHelp is the part of Help about "versus".
const VersusHelp = `
loudfor versus --json
  schema        "loudfor/versus/1"
  currency, cap, goal, vehicle, demo  as in pick; cap is left out where none is
                stated
  builds        in the order of the command line, each as in pick (rank: its
                place in that order; difference and tie: to the first), and
    name          as the command line names it
    front_db      level of the front at the seat; left out where nothing drives it
    current_a     what all amplifiers together can draw
    controls      {high_pass, low_pass, gain, bass_control}: who has it, or "no"
    over_cap      by how much it is above the cap; left out where it is not
    music_band_db half the width of the 90 % interval of the music level
  spots         every place with every set of openings of the car: {place,
                openings, readings}; readings, one for each build: {db, band_db,
                hz, difference, tie}, difference {db, band_db, chance} to the first build,
                of the music level where the goal is music
`
