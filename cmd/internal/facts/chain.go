package facts

import (
	"fmt"
	"math"

	"loudfor/optimizer"
)

// Link is a quantity of the chain from the battery to the air.
type Link struct{ Name, Figure, Where string }

// Chain is what there is at the peak, as far as the box.
func Chain(s Speaker, b optimizer.Build) []Link {
	o := b.Operation
	links := []Link{
		{"supply", Three(o.SupplyVolts) + " V", Three(o.SupplyAmps) + " A at the amplifier's terminals"},
		{"voltage", Three(o.Volts) + " V", "at one output, rms"},
		{"current", Three(o.Amps) + " A", "at one output, rms"},
		{"load", Three(o.Load) + " " + s.Ohm(), fmt.Sprintf("at one output, %s; nominal %s %s", phase(o.Phase), Plain(b.Plan.Load), s.Ohm())},
		{"real power", Three(o.Watts) + " W", "all outputs together"},
		{"apparent power", Three(o.Apparent) + " VA", "all outputs together"},
		{"coil heat", Three(o.CoilRise) + " K", "above the air"},
		{"cone travel", Three(o.Travel*1e3) + " mm", travel(b)},
	}
	if o.PortSpeed > 0 {
		links = append(links, Link{"port speed", Three(o.PortSpeed) + " m/s", "peak"})
	}
	return links
}

func phase(radians float64) string {
	degrees := radians * 180 / math.Pi
	side := "current behind voltage"
	if degrees < 0 {
		side = "current ahead of voltage"
	}
	return fmt.Sprintf("%s degrees, %s", Fixed(math.Abs(degrees), 0), side)
}

func travel(b optimizer.Build) string {
	text := "peak, one way"
	if xmax := b.Bass.Driver.Xmax; xmax > 0 {
		text += "; rated " + Three(xmax*1e3) + " mm"
	}
	return text
}
