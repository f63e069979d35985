package catalog

import (
	"errors"
	"fmt"
	"strings"

	"loudfor/catalog/document"
	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Numbers that cannot be right together are found by the model, which knows
// the physics; here they get the place of their key.

// roomCelsius is the air in which spec cards are taken.
const roomCelsius = 20

// cardKeys are the keys of the fields of a card.
var cardKeys = map[string]string{
	"Size": "size", "Coils": "coils", "CoilLoad": "coils", "Re": "re", "Le": "le", "Bl": "bl",
	"Fs": "fs", "Qms": "qms", "Qes": "qes", "Qts": "qts", "Vas": "vas", "Sd": "sd", "Mms": "mms",
	"Cms": "cms", "Xmax": "xmax", "Power": "rms", "Sensitivity": "sensitivity",
}

// card is the spec card of the part and the path of its keys.
func (p *Part) card() (card *driver.Card, prefix string) {
	switch p.Kind {
	case KindSubwoofer:
		return &p.Subwoofer.Card, ""
	case KindLoaded:
		return &p.Loaded.Card, "driver."
	}
	return nil, ""
}

// validate reports what cannot be in a part whose values could all be read.
func (p *Part) validate(r *document.Reader) {
	add := func(path, summary, detail string) {
		r.Add(p.problem(r.File, Error, path, summary, detail))
	}
	if card, prefix := p.card(); card != nil && mayContradict(card) {
		err := driver.Possible(*card, air.At(roomCelsius))
		var impossible *driver.ImpossibleError
		if errors.As(err, &impossible) {
			for _, n := range impossible.Numbers {
				key := cardKeys[n.Quantity]
				add(prefix+key, fmt.Sprintf("%s cannot be right: %s", key, n.Reason), "check the spec card, and the units")
			}
		}
	}
	switch p.Kind {
	case KindAmplifier:
		p.validateRatings(add)
	case KindEnclosure, KindLoaded:
		p.validateBox(add)
	case KindSource:
		if s := p.Source; s.MinimumLoad > s.Load {
			add("minimum_load", fmt.Sprintf("the power is stated into %g ohm, below the minimum load of %g ohm", s.Load, s.MinimumLoad),
				"mend load or minimum_load")
		}
	}
}

// mayContradict spares the cards with too few numbers to contradict each
// other, most of those in a store, the work of a completion: fs, Vas, Sd, Re
// and one pair of quality factors are independent of each other, and of Xmax,
// Le and the power. What can be wrong with one of them alone, the ranges of
// the keys have refused.
func mayContradict(c *driver.Card) bool {
	if c.Coils > driver.MostCoils || c.Bl > 0 || c.Mms > 0 || c.Cms > 0 || c.Sensitivity > 0 {
		return true
	}
	factors := 0
	for _, q := range [...]float64{c.Qms, c.Qes, c.Qts} {
		if q > 0 {
			factors++
		}
	}
	// A total against its parts, a piston against its frame, a resistance
	// against its nominal load.
	return factors > 1 || c.Sd > 0 || c.Re > 0
}

func (p *Part) validateRatings(add func(path, summary, detail string)) {
	for _, f := range p.Amplifier.Spec.Faults() {
		path := f.Key
		if f.Rating > 0 {
			path = fmt.Sprintf("ratings[%d].%s", f.Rating, f.Key)
		}
		summary, detail, ok := strings.Cut(f.Reason, ": ")
		if !ok {
			detail = "mend the rating, or the number of channels"
		}
		add(path, summary, detail)
	}
}

// boxKeys are the keys of the quantities that the box check names.
var boxKeys = map[string]string{
	"volume": "volume", "front volume": "front_volume", "leakage QL": "leak_q", "absorption QA": "absorption_q",
	"front absorption QA": "front_absorption_q", "port QP": "port_q",
	"port length": "port.length", "port diameter": "port.diameter", "port width": "port.width", "port height": "port.height",
	"port area": "port", "volume of the ports": "port", "number of ports": "port.count", "flanged ends": "port.flanged_ends",
	"tuning": "tuning", "number of drivers": "holes",
}

func (p *Part) validateBox(add func(path, summary, detail string)) {
	b := p.box()
	switch {
	case b.Kind == enclosure.BandPass && b.FrontVolume == 0:
		add("type", "a band-pass box needs the key \"front_volume\"", "add the volume of the vented chamber, such as front_volume: 20 L")
		return
	case b.Kind != enclosure.Sealed && b.Tuning == 0 && !b.Port.Stated():
		add("type", fmt.Sprintf("a %s box needs its tuning or the size of its port", boxWords[b.Kind]), "add tuning: 36 Hz, or port: {diameter: 10 cm, length: 25 cm}")
		return
	}
	var fault *enclosure.Error
	if !errors.As(b.Check(), &fault) {
		return
	}
	detail := fault.Reason
	if strings.HasPrefix(fault.Quantity, "port") || fault.Quantity == "volume of the ports" {
		detail += fmt.Sprintf(": the chamber has %.3g L", 1000*portedVolume(b))
	}
	add(boxKeys[fault.Quantity], fmt.Sprintf("the %s cannot be right", fault.Quantity), detail)
}

// portedVolume is that of the chamber with the port, m3.
func portedVolume(b *enclosure.Box) float64 {
	if b.Kind == enclosure.BandPass {
		return b.FrontVolume
	}
	return b.Volume
}

// rating is the path of a rating in its list, and the number that is given
// for one that is not there.
func ratingPath(s *amplifier.Spec, r amplifier.Rating, key string) string {
	for i, q := range s.Ratings {
		if q.Mode == r.Mode && q.Load == r.Load && q.Basis == r.Basis {
			return fmt.Sprintf("ratings[%d].%s", i+1, key)
		}
	}
	return "ratings"
}
