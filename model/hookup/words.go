package hookup

import (
	"fmt"
	"strconv"
	"strings"

	"loudfor/model/amplifier"
)

// The plan in words, for the person with the wire in hand: inside a driver,
// between drivers, then to the amplifier, with the load after each step so
// that it can be checked with a meter.

func (p Plan) words() string {
	var steps []string
	unit := p.CoilLoad * float64(p.InnerSeries) / float64(p.InnerParallel)
	if p.InnerSeries*p.InnerParallel > 1 {
		steps = append(steps, fmt.Sprintf("wire %s %s (%s)", p.coilsOfUnit(), arrangement(p.InnerSeries, p.InnerParallel, "coils"), ohms(unit)))
	}
	if p.units() > 1 {
		steps = append(steps, fmt.Sprintf("wire %s %s", p.unitsOfOutput(), arrangement(p.outerSeries(), p.outerParallel(), p.unitName())))
	}
	if len(steps) == 0 {
		return fmt.Sprintf("connect %s: %s on %s", p.alone(), ohms(p.Load), p.outputs())
	}
	return fmt.Sprintf("%s: %s on %s", strings.Join(steps, "; "), ohms(p.Load), p.outputs())
}

// coilsOfUnit names the coils that are joined inside a driver.
func (p Plan) coilsOfUnit() string {
	owner := "the driver's"
	if p.Drivers > 1 {
		owner = "each driver's"
	}
	inner := p.InnerSeries * p.InnerParallel
	if p.Split == 1 {
		return fmt.Sprintf("%s %s %s coils", owner, count(inner), ohms(p.CoilLoad))
	}
	return fmt.Sprintf("%s %s %s coils into %s sets of %s, the coils of a set",
		owner, count(p.Coils), ohms(p.CoilLoad), count(p.Split), count(inner))
}

// unitsOfOutput names what is joined between drivers.
func (p Plan) unitsOfOutput() string {
	switch {
	case p.Split > 1 && p.InnerSeries*p.InnerParallel > 1:
		return fmt.Sprintf("the like sets of %s", p.driversTogether())
	case p.Split > 1:
		return fmt.Sprintf("the first coils of %s, likewise their %s,", p.driversTogether(), p.otherCoils())
	case p.Outputs == 1:
		return fmt.Sprintf("the %s %s", count(p.units()), p.unitName())
	}
	return fmt.Sprintf("the %s in groups of %s, the drivers of a group", p.unitName(), count(p.units()))
}

// driversTogether names the drivers that share a set of outputs.
func (p Plan) driversTogether() string {
	if p.Outputs == p.Split {
		return fmt.Sprintf("the %s drivers", count(p.Drivers))
	}
	return fmt.Sprintf("each group of %s drivers", count(p.units()))
}

func (p Plan) otherCoils() string {
	if p.Coils == 2 {
		return "second coils"
	}
	return "other coils"
}

func (p Plan) unitName() string {
	if p.Split > 1 {
		if p.InnerSeries*p.InnerParallel > 1 {
			return "sets"
		}
		return "coils"
	}
	return "drivers"
}

// alone names what goes to an output by itself.
func (p Plan) alone() string {
	switch {
	case p.Split > 1 && p.Drivers == 1:
		return fmt.Sprintf("each of the driver's %s coils to an output of its own", count(p.Coils))
	case p.Split > 1:
		return fmt.Sprintf("each of the %s coils of each driver to an output of its own", count(p.Coils))
	case p.Drivers == 1:
		return "the driver by itself"
	}
	return "each driver to an output of its own"
}

// arrangement is how series x parallel parts are joined.
func arrangement(series, parallel int, parts string) string {
	switch {
	case parallel == 1:
		return "in series"
	case series == 1:
		return "in parallel"
	}
	return fmt.Sprintf("as %s strings of %s %s in series, the strings in parallel", count(parallel), count(series), parts)
}

// outputs names the outputs of the amplifier.
func (p Plan) outputs() string {
	var one, many string
	switch p.Mode {
	case amplifier.Mono:
		one, many = "the mono output", "mono outputs"
	case amplifier.Stereo:
		one, many = "one channel", "channels"
	case amplifier.Bridged:
		one, many = "the bridged output", "bridged outputs"
	case amplifier.Paralleled:
		one, many = "the paralleled output", "paralleled outputs"
	default:
		one, many = "the output", "outputs"
	}
	if p.Outputs == 1 {
		return one
	}
	return fmt.Sprintf("each of %s %s", count(p.Outputs), many)
}

// caution is what can go wrong with this plan although its load is right.
func (p Plan) caution() string {
	switch {
	case p.Split > 1:
		return fmt.Sprintf("the coils of one driver hang on %s outputs: all of them must carry the same mono signal "+
			"with the same gain, filter and polarity, or the coils work against each other", count(p.Split))
	case p.Outputs > 1:
		return "all outputs must carry the same mono signal with the same gain, filter and polarity"
	}
	return ""
}

var small = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func count(n int) string {
	if n >= 0 && n < len(small) {
		return small[n]
	}
	return strconv.Itoa(n)
}

// ohms gives a load to three digits, as it would be read from a card.
func ohms(load float64) string { return fmt.Sprintf("%.3g ohm", load) }
