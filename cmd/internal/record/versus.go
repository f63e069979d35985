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
	Head
	Builds []VersusBuild `json:"builds" doc:"in the order of the command line, each as for pick (rank: its place in that order; difference and tie: to the first), and"`
	Spots  []Spot        `json:"spots" doc:"every place with every set of openings of the car"`
}

// VersusBuild is one of the builds, at the brief's place.
type VersusBuild struct {
	Name string `json:"name" doc:"as the command line names it"`
	Build
	FrontDB   Figure            `json:"front_db,omitempty" doc:"level of the front at the seat; left out where nothing drives it"`
	CurrentA  Figure            `json:"current_a" doc:"what all amplifiers together can draw"`
	Controls  map[string]string `json:"controls" doc:"{high_pass, low_pass, gain, bass_control}: who has it, or no"`
	OverCap   *Amount           `json:"over_cap,omitempty" doc:"by how much it is above the cap; left out where it is not"`
	MusicBand Figure            `json:"music_band_db,omitempty" doc:"half the width of the 90 % interval of the music level"`
}

// Spot is one place with one set of openings.
type Spot struct {
	Place    string        `json:"place"`
	Openings string        `json:"openings"`
	Readings []SpotReading `json:"readings" doc:"one for each build, in their order; difference to the first, of the music level where the goal is music"`
}

// SpotReading is what one build does at a spot.
type SpotReading struct {
	DB         Figure      `json:"db"`
	BandDB     Figure      `json:"band_db,omitempty"`
	Hz         Figure      `json:"hz"`
	Difference *Difference `json:"difference,omitempty"`
	Tie        bool        `json:"tie"`
}

// OfVersus is the document of a comparison.
func OfVersus(b catalog.Brief, v catalog.Vehicle, from Origin, all versus.Versus) Versus {
	doc := Versus{Head: head(VersusSchema, b, v, from), Spots: []Spot{}}
	doc.Currency = all.Here[0].Cost.Currency
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
			one.OverCap = amount(catalog.Money{Minor: build.Cost.Minor - b.Cap.Minor, Currency: b.Cap.Currency})
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
