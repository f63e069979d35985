package catalog

import (
	"loudfor/catalog/units"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// The keys of each kind, in the order of the tables that they are read with. A
// test fills every key of those tables and holds that each comes back.

func (w *partWriter) card(c *driver.Card) {
	w.quantity("size", c.Size, units.Length)
	w.times("coils", c.Coils, c.CoilLoad, units.Resistance)
	w.quantity("rms", c.Power, units.Power)
	w.quantity("fs", c.Fs, units.Frequency)
	w.quantity("qts", c.Qts, units.Number)
	w.quantity("qes", c.Qes, units.Number)
	w.quantity("qms", c.Qms, units.Number)
	w.quantity("vas", c.Vas, units.Volume)
	w.quantity("sd", c.Sd, units.Area)
	w.quantity("xmax", c.Xmax, units.Length)
	w.quantity("re", c.Re, units.Resistance)
	w.quantity("le", c.Le, units.Inductance)
	w.quantity("bl", c.Bl, units.ForceFactor)
	w.quantity("mms", c.Mms, units.Mass)
	w.quantity("cms", c.Cms, units.Compliance)
	w.quantity("sensitivity", c.Sensitivity, units.Level)
}

func (w *partWriter) subwoofer(s *Subwoofer) {
	w.card(&s.Card)
	w.quantity("cutout", s.Cutout, units.Length)
	w.quantity("bolt_circle", s.BoltCircle, units.Length)
	w.quantity("depth", s.Depth, units.Length)
	w.quantity("displacement", s.Displacement, units.Volume)
}

func (w *partWriter) amplifier(a *Amplifier) {
	s := &a.Spec
	w.count("channels", s.Channels, 0)
	if k := int(s.Class - amplifier.ClassAB); k >= 0 && k < len(classWords) {
		w.plain("class", classWords[k])
	}
	w.quantity("fuse", s.Fuse, units.Current)
	w.group("ratings", func() {
		for _, r := range s.Ratings {
			w.rating(r)
		}
	})
	w.flag("high_pass", a.HighPass)
	w.flag("low_pass", a.LowPass)
	w.flag("bass_control", a.BassControl)
	w.flag("speaker_input", a.SpeakerInput)
}

// rating is one line of the list: such a table is read across.
func (w *partWriter) rating(r amplifier.Rating) {
	text := "- {mode: " + modeWords[r.Mode] + ", load: " + units.Exact(r.Load, units.Resistance) +
		", watts: " + units.Exact(r.Watts, units.Power) + ", basis: " + basisWords[r.Basis]
	if r.Volts != 0 {
		text += ", volts: " + units.Exact(r.Volts, units.Voltage)
	}
	w.text.WriteString(w.lead + text + "}\n")
}

func (w *partWriter) enclosure(e *Enclosure) {
	w.times("holes", e.Box.Drivers, e.Hole, units.Length)
	w.size("outside", e.Outside)
	w.quantity("depth", e.Depth, units.Length)
	w.quantity("cutout", e.Cutout, units.Length)
	w.quantity("bolt_circle", e.BoltCircle, units.Length)
	w.box(&e.Box)
}

func (w *partWriter) loaded(l *Loaded) {
	w.count("drivers", l.Box.Drivers, 1)
	w.group("driver", func() { w.card(&l.Card) })
	w.size("outside", l.Outside)
	w.box(&l.Box)
}

func (w *partWriter) box(b *enclosure.Box) {
	w.plain("type", boxWords[b.Kind])
	w.quantity("volume", b.Volume, units.Volume)
	w.quantity("front_volume", b.FrontVolume, units.Volume)
	w.quantity("tuning", b.Tuning, units.Frequency)
	if p := b.Port; p != (enclosure.Port{}) {
		w.group("port", func() {
			w.count("count", p.Count, 1)
			w.quantity("diameter", p.Diameter, units.Length)
			w.quantity("width", p.Width, units.Length)
			w.quantity("height", p.Height, units.Length)
			w.quantity("length", p.Length, units.Length)
			w.count("flanged_ends", p.FlangedEnds, 1)
		})
	}
	w.quantity("leak_q", b.LeakQ, units.Number)
	w.quantity("absorption_q", b.AbsorptionQ, units.Number)
}

func (w *partWriter) front(f *FrontSpeakers) {
	w.quantity("load", f.Load, units.Resistance)
	w.quantity("rms", f.Power, units.Power)
	w.quantity("sensitivity", f.Sensitivity, units.Level)
	w.quantity("fs", f.Fs, units.Frequency)
	w.quantity("sd", f.Sd, units.Area)
	w.quantity("xmax", f.Xmax, units.Length)
	w.quantity("size", f.Size, units.Length)
}

// usualLoad is what the reader assumes for a source, ohm.
const usualLoad = 4

func (w *partWriter) source(s *Source) {
	w.count("pre_outs", s.PreOuts, 0)
	w.quantity("pre_out_volts", s.PreOutVolts, units.Voltage)
	w.times("power", s.Channels, s.Power, units.Power)
	if s.Load != usualLoad {
		w.quantity("load", s.Load, units.Resistance)
	}
	w.quantity("minimum_load", s.MinimumLoad, units.Resistance)
	w.flag("high_pass", s.HighPass)
	w.flag("low_pass", s.LowPass)
	w.flag("bass_control", s.BassControl)
	if s.PowerClaimed {
		w.plain("basis", basisWords[amplifier.Claimed])
	}
	w.quantity("supply", s.SupplyVolts, units.Voltage)
}

func (w *partWriter) kit(k *WiringKit) {
	w.plain("gauge", gauge(k.Area))
	if k.CopperClad {
		w.plain("material", "copper-clad aluminium")
	}
	w.quantity("length", k.Length, units.Length)
	w.quantity("fuse", k.Fuse, units.Current)
	if k.GaugeClaimed {
		w.plain("basis", basisWords[amplifier.Claimed])
	}
}

func (w *partWriter) sheet(s *Sheet) {
	w.quantity("thickness", s.Thickness, units.Length)
	w.plain("board", units.ExactLengths(s.Length, s.Width))
	w.quantity("density", s.Density, units.Density)
	if s.ByArea {
		w.plain("charge", chargeWords[1])
	}
}

func (w *partWriter) workshop(s *Workshop) {
	for _, k := range [...]struct {
		key         string
		time, usual float64
		d           units.Dimension
	}{
		{"per_box", s.PerBox, defaultPerBox, units.Time},
		{"per_panel", s.PerPanel, defaultPerPanel, units.Time},
		{"per_hole", s.PerHole, defaultPerHole, units.Time},
		{"per_port", s.PerPort, defaultPerPort, units.Time},
		{"kerf", s.Kerf, defaultKerf, units.Length},
	} {
		if k.time != k.usual { // zero is a statement here
			w.plain(k.key, units.Exact(k.time, k.d))
		}
	}
}

// gauge writes a cross-section, m2, as the gauge that has exactly this area,
// or as an area.
func gauge(area float64) string {
	awg, ok := supply.GaugeOf(area)
	if !ok || supply.AreaOfGauge(awg) != area {
		return units.Exact(area, units.Area)
	}
	if awg < 1 {
		return units.Plain(float64(1-awg)) + "/0 AWG"
	}
	return units.Plain(float64(awg)) + " AWG"
}
