package record

import (
	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// Asked is what every customer asks about a build. What is not known is left out.
type Asked struct {
	Lights  *Lights  `json:"lights,omitempty" doc:"the battery's voltage with the engine idling"`
	Room    *Room    `json:"room,omitempty" doc:"width, depth and height that the boxes take and of the largest block beside, in front of or above them"`
	Low     *Low     `json:"how_low,omitempty" doc:"the lowest frequency within 6 dB of the middle of the bass, 50 Hz, everything shut, at low volume; tuning_hz: of a port, below which it is not loud"`
	Windows []Window `json:"windows,omitempty" doc:"the reading with other openings"`
	Before  *Before  `json:"before,omitempty" doc:"as in answers of pick"`
}

// Lights is what the bass does to the voltage at the battery, the engine idling.
type Lights struct {
	IdleVolts Figure `json:"idle_volts" doc:"without music"`
	Note      Sag    `json:"full_note" doc:"on a sustained note at full level; dims from 0.5 V on"`
	Music     Sag    `json:"music" doc:"on the heaviest note of balanced music"`
	Quieter   Figure `json:"quieter_db,omitempty" doc:"where the note dims: how much quieter it does not"`
	Amps      Figure `json:"alternator_amps,omitempty" doc:"the rating of an alternator with which it does not"`
	Mend      *Mend  `json:"mend,omitempty" doc:"the build with the cheapest other amplifier or cable with which it does not; left out where there is none"`
}

// Sag is the battery while the bass plays.
type Sag struct {
	Volts Figure `json:"volts"`
	Amps  Figure `json:"amps"`
	Dip   Figure `json:"dip_volts"`
	Band  Figure `json:"dip_band_volts,omitempty"`
	Dims  bool   `json:"dims"`
}

// Mend is the build after the cheapest change of a part that keeps lamps from dimming.
type Mend struct {
	Extra Amount `json:"extra"`
	Dip   Figure `json:"dip_volts"`
	Parts []Part `json:"parts"`
}

// Room is what the boxes leave of the space; width, depth and height in m.
type Room struct {
	Taken [3]Figure `json:"taken_m"`
	Free  [3]Figure `json:"free_m"`
	Where string    `json:"where"`
}

// Low is the lowest frequency within 6 dB of the middle of the bass.
type Low struct {
	Hz    Figure `json:"hz"`
	Band  Figure `json:"hz_band,omitempty"`
	Below bool   `json:"or_below,omitempty"`
	Place string `json:"place"`
	Tuned Figure `json:"tuning_hz,omitempty"`
}

// Window is the reading with other openings.
type Window struct {
	Openings string `json:"openings"`
	DB       Figure `json:"db"`
	BandDB   Figure `json:"band_db,omitempty"`
	Hz       Figure `json:"hz"`
}

// OfAsked is the document of the answers; nil of none.
func OfAsked(a *advice.Asked) *Asked {
	if a == nil {
		return nil
	}
	doc := &Asked{Before: before(a.Before)}
	if l := a.Lights; l != nil {
		doc.Lights = &Lights{IdleVolts: Number(l.Idle), Note: sag(l.Note), Music: sag(l.Music)}
		if l.Note.Dims() {
			doc.Lights.Quieter, doc.Lights.Amps = Level(l.Quieter), Number(l.Alternator)
		}
		if m := l.Mend; m != nil {
			doc.Lights.Mend = &Mend{Extra: money(m.Cost), Dip: Number(m.Dip), Parts: ofBuild(m.Build).Parts}
		}
	}
	if r := a.Room; r != nil {
		doc.Room = &Room{size(r.Taken), size(r.Free), r.Where}
	}
	if l := a.Low; l != nil {
		var tuned Figure
		if l.Tuning > 0 {
			tuned = Number(l.Tuning)
		}
		doc.Low = &Low{Number(l.Hz), Number(l.Band), l.Ends, l.Place, tuned}
	}
	for _, w := range a.Windows {
		doc.Windows = append(doc.Windows, Window{w.Openings, Level(w.Level), band(w.Band), Number(w.Hz)})
	}
	return doc
}

func sag(s advice.Sag) Sag {
	return Sag{Number(s.Volts), Number(s.Amps), Number(s.Dip), Number(s.Band), s.Dims()}
}

func size(s catalog.Size3) [3]Figure {
	return [3]Figure{Number(s.Width), Number(s.Depth), Number(s.Height)}
}

func before(f *optimizer.Front) *Before {
	if f == nil {
		return nil
	}
	return &Before{Level(f.DB), band(f.Band)}
}
