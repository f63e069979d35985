package tables

import (
	"strings"
	"sync"

	"loudfor/catalog"
)

// The names under which shops' lists have the keys of parts. Common practice,
// no source. After a | stands the unit that the name itself says.

// everyPart are the names for the keys that all parts have.
var everyPart = map[string][]string{
	"sku": {"item", "item number", "item no", "item code", "part number", "part no", "part", "article", "article number", "article no", "code",
		"product code", "model number", "model no", "stock code", "id"},
	"kind":  {"category", "product type", "product kind", "group", "product group"},
	"name":  {"description", "product", "product name", "title", "model", "model name", "item description", "item name"},
	"maker": {"brand", "manufacturer", "make", "mfr"},
	"store": {"shop", "seller", "supplier", "vendor", "dealer", "branch", "location"},
	"price": {"unit price", "net price", "sale price", "selling price", "our price", "list price", "cost", "unit cost", "each"},
	"stock": {"in stock", "on hand", "quantity", "qty", "quantity on hand", "qty on hand", "available", "pcs", "inventory"},
	"limit": {"limit per customer", "max per customer", "maximum per customer"},
	"note":  {"notes", "comment", "comments", "remark", "remarks"},
}

// driverNames are those of a spec card.
var driverNames = map[string][]string{
	"size": {"nominal size", "diameter", "nominal diameter", "driver size", "cone size", "inches|in", "size inches|in"},
	"coils": {"voice coil", "voice coils", "coil", "coil configuration", "impedance", "nominal impedance", "vc",
		"impedance ohms|ohm", "ohms|ohm"},
	"coils count": {"number of coils", "no of coils", "number of voice coils"},
	"coils each":  {"impedance per coil", "coil impedance", "ohms per coil|ohm"},
	"rms": {"rms power", "power rms", "power", "power handling", "power handling rms", "rms power handling", "continuous power", "rated power",
		"nominal power", "watts rms|W", "rms watts|W", "watts|W"},
	"fs":          {"resonance", "resonant frequency", "resonance frequency", "free air resonance", "f0"},
	"qts":         {"total q"},
	"qes":         {"electrical q"},
	"qms":         {"mechanical q"},
	"vas":         {"equivalent volume", "equivalent compliance volume", "compliance volume"},
	"sd":          {"cone area", "piston area", "effective area", "effective piston area"},
	"xmax":        {"x max", "excursion", "linear excursion", "one way excursion", "xmax one way", "linear travel"},
	"re":          {"dcr", "dc resistance", "revc", "coil resistance"},
	"le":          {"inductance", "voice coil inductance"},
	"bl":          {"force factor", "motor strength", "bxl"},
	"mms":         {"moving mass"},
	"cms":         {"compliance", "suspension compliance"},
	"sensitivity": {"spl", "efficiency", "sensitivity 1w 1m|dB", "spl 1w 1m|dB", "1w 1m|dB"},
}

var mounting = map[string][]string{
	"cutout":       {"cut out", "cutout diameter", "mounting hole", "hole diameter", "mounting diameter", "mounting hole diameter"},
	"depth":        {"mounting depth"},
	"displacement": {"driver displacement", "basket displacement", "displaced volume"},
}

var filters = map[string][]string{
	"high_pass":     {"hpf", "high pass filter", "high pass crossover"},
	"low_pass":      {"lpf", "low pass filter", "low pass crossover"},
	"bass_control":  {"bass knob", "bass remote", "remote bass", "remote bass control", "remote level", "remote"},
	"speaker_input": {"speaker level input", "high level input", "high level inputs", "speaker inputs", "hi level input"},
}

// filterNames are some of them.
func filterNames(keys ...string) map[string][]string {
	out := map[string][]string{}
	for _, key := range keys {
		out[key] = filters[key]
	}
	return out
}

var boxNames = map[string][]string{
	"type":         {"box type", "enclosure type", "alignment"},
	"volume":       {"net volume", "internal volume", "inside volume", "air space", "airspace", "net air space"},
	"front_volume": {"front chamber", "front chamber volume", "ported chamber"},
	"tuning":       {"tuning frequency", "fb", "tuned to", "port tuning", "box tuning"},
	"outside": {"outside size", "dimensions", "external dimensions", "outside dimensions", "overall dimensions", "size w x d x h", "w x d x h", "wxdxh",
		"external w x d x h", "outside w x d x h", "dimensions w x d x h", "external size", "size w d h"},
	"outside width": {"outer width", "external width", "width"}, "outside depth": {"outer depth", "external depth"},
	"outside height": {"outer height", "external height", "height"},
}

var ofKind = [catalog.KindCount][]map[string][]string{
	catalog.KindSubwoofer: {driverNames, mounting},
	catalog.KindAmplifier: {{
		"channels": {"ch", "number of channels", "no of channels", "channel count"},
		"class":    {"amplifier class", "topology", "operating class"},
		"fuse":     {"fuses", "fusing", "fuse rating", "fuse size", "on board fuse"},
		"ratings": {"power ratings", "rated powers", "power", "rms", "rms power", "power rms", "output power", "rms output", "rms output power", "continuous power", "rated power",
			"nominal power", "power output", "watts", "watts rms", "rms watts", "power at load", "power per load"},
	}, filters},
	catalog.KindEnclosure: {boxNames, {
		"holes":  {"cutouts", "fits", "for drivers", "for subwoofers", "driver size", "woofer size", "hole size", "holes inches|in", "inches|in", "size", "diameter", "nominal size"},
		"cutout": mounting["cutout"], "holes count": {"number of holes", "no of holes", "number of drivers", "no of drivers", "drivers"},
		"holes each": {"size of holes", "size of drivers"}, "depth": {"free depth", "mounting depth", "available depth"},
	}},
	catalog.KindLoaded: {boxNames, {"drivers": {"number of drivers", "no of drivers", "subs", "number of subs"}}},
	catalog.KindFront: {{
		"load": {"impedance", "nominal impedance", "ohms|ohm", "impedance ohms|ohm", "coil", "coils", "voice coil", "voice coils"},
		"rms":  driverNames["rms"], "sensitivity": driverNames["sensitivity"], "fs": driverNames["fs"], "sd": driverNames["sd"],
		"xmax": driverNames["xmax"], "size": {"nominal size", "speaker size", "diameter", "inches|in", "size inches|in"},
	}},
	catalog.KindSource: {{
		"pre_outs":      {"preouts", "pre outs pairs", "rca outputs", "rca outs", "line outputs", "preamp outputs", "pre out pairs"},
		"pre_out_volts": {"pre out voltage", "preout volts", "preamp voltage", "rca voltage"},
		"power":         {"built in power", "power output", "internal power"},
		"power count":   {"power channels", "channels"}, "power each": {"power per channel", "watts per channel|W", "watts|W"},
		"load": {"power load", "rated load"}, "minimum_load": {"minimum impedance", "min load"},
	}, filterNames("high_pass", "low_pass", "bass_control")},
	catalog.KindConverter: {{"channels": {"ch", "outputs", "line outputs"}}},
	catalog.KindBlocker:   {{"capacitance": {"capacitor", "value", "uf|uF"}}},
	catalog.KindKit: {{
		"gauge":    {"awg|AWG", "wire gauge", "wire size", "cable size", "cable gauge", "size"},
		"material": {"conductor", "wire material", "cable material"},
		"length":   {"cable length", "wire length", "power cable length"},
		"fuse":     {"fuse rating", "fuse size"},
	}},
}

// dealNames are the names for the keys of deals.
var dealNames = map[string][]string{
	"name": {"deal", "offer"}, "parts": {"set", "bundle"}, "sku": everyPart["sku"], "price": everyPart["price"],
	"from": {"from pieces", "minimum quantity"}, "off": {"discount"}, "limit": everyPart["limit"], "note": everyPart["note"],
}

// meaning is what a column's name says: a key, or a piece of one ("outside
// width"), and a unit.
type meaning struct{ key, unit string }

// dictionary finds meanings by tidied names.
type dictionary map[string]meaning

func (d dictionary) add(names map[string][]string, prefix string) {
	for key, list := range names {
		for _, name := range list {
			name, unit, _ := strings.Cut(name, "|")
			if _, have := d[tidied(name)]; !have {
				d[tidied(name)] = meaning{prefix + key, unit}
			}
		}
	}
}

// paths adds the keys themselves: "port.length" as "port length" too.
func (d dictionary) paths(specs []catalog.PathSpec) {
	for _, s := range specs {
		d[tidied(s.Path)] = meaning{key: s.Path}
		for _, piece := range pieces[s.Path] {
			d[tidied(piece)] = meaning{key: piece}
		}
	}
}

// kindDictionaries has the names for each sort of row. The keys go before other
// names, and a kind's own names before those of all parts.
var kindDictionaries = sync.OnceValue(func() (out [rowSorts]dictionary) {
	for k := range out {
		d := dictionary{}
		d.paths(pathSpecs()[k])
		switch catalog.Kind(k) {
		case dealRow:
			d.add(dealNames, "")
			fallthrough
		case storeRow:
			d["kind"] = meaning{key: "kind"}
		default:
			for _, names := range ofKind[k] {
				d.add(names, "")
			}
			if catalog.Kind(k) == catalog.KindLoaded {
				d.add(driverNames, "driver.")
				for _, s := range pathSpecs()[k] {
					if bare, ok := strings.CutPrefix(s.Path, "driver."); ok {
						if _, have := d[tidied(bare)]; !have {
							d[tidied(bare)] = meaning{key: s.Path}
						}
					}
				}
			}
			d.add(everyPart, "")
		}
		out[k] = d
	}
	return out
})
