package catalog

import (
	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// The keys of the signal and of the front of the car.

var frontFields = []partField{
	required(field("load", document.Quantity, units.Resistance, "0.5 ohm..100 ohm", "nominal load of each",
		func(p *Part) *float64 { return &p.Front.Load })),
	required(example(field("rms", document.Quantity, units.Power, ">0 W..5000 W", "continuous power that each takes",
		func(p *Part) *float64 { return &p.Front.Power }), "45 W")),
	field("sensitivity", document.Quantity, units.Level, "50 dB..125 dB", "level at 1 W and 1 m",
		func(p *Part) *float64 { return &p.Front.Sensitivity }),
	field("fs", document.Quantity, units.Frequency, "5 Hz..2000 Hz", "free-air resonance",
		func(p *Part) *float64 { return &p.Front.Fs }),
	field("sd", document.Quantity, units.Area, ">0 cm2..10000 cm2", "effective piston area of each",
		func(p *Part) *float64 { return &p.Front.Sd }),
	field("xmax", document.Quantity, units.Length, ">0 mm..100 mm", "linear travel one way, peak",
		func(p *Part) *float64 { return &p.Front.Xmax }),
	example(field("size", document.Oval, units.Length, "1 in..20 in", "nominal size",
		func(p *Part) *float64 { return &p.Front.Size }), "6.5 in"),
}

var sourceFields = []partField{
	document.Int(spec{Key: "pre_outs", Shape: document.Whole, Range: "0..16", Default: "0", Example: "2", Help: "pairs of line outputs"},
		func(p *Part) *int { return &p.Source.PreOuts }),
	field("pre_out_volts", document.Named, units.Voltage, ">0 V..20 V", "voltage of the line outputs, rms",
		func(p *Part) *float64 { return &p.Source.PreOutVolts }),
	document.Multiple(spec{Key: "power", Shape: document.Times, Dim: units.Power, Range: ">0 W..200 W", Example: "4 x 17 W", Help: "built-in channels and the continuous power of each"},
		func(p *Part) *int { return &p.Source.Channels }, func(p *Part) *float64 { return &p.Source.Power }),
	document.Float(spec{Key: "load", Shape: document.Quantity, Dim: units.Resistance, Range: "0.5 ohm..100 ohm", Default: "4 ohm", Help: "load into which the power holds"},
		func(p *Part) *float64 { return &p.Source.Load }),
	field("minimum_load", document.Quantity, units.Resistance, "0.5 ohm..100 ohm", "lowest load that its channels drive",
		func(p *Part) *float64 { return &p.Source.MinimumLoad }),
	flag("high_pass", "has a high-pass for the front outputs", func(p *Part) *bool { return &p.Source.HighPass }),
	flag("low_pass", "has a low-pass for the bass output", func(p *Part) *bool { return &p.Source.LowPass }),
	flag("bass_control", "has a level control for the bass", func(p *Part) *bool { return &p.Source.BassControl }),
	claimed("how far the power can be believed", func(p *Part) *bool { return &p.Source.PowerClaimed }),
	field("supply", document.Quantity, units.Voltage, "9 V..18 V", "supply at which the power holds",
		func(p *Part) *float64 { return &p.Source.SupplyVolts }),
}

var converterFields = []partField{
	document.Int(spec{Key: "channels", Shape: document.Whole, Range: "1..16", Required: true, Example: "2", Help: "line outputs"},
		func(p *Part) *int { return &p.Converter.Channels }),
}

var blockerFields = []partField{
	required(field("capacitance", document.Quantity, units.Capacitance, ">0 uF..10000 uF", "capacitance of each of the pair",
		func(p *Part) *float64 { return &p.Blocker.Capacitance })),
}
