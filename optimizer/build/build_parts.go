package build

import (
	"slices"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
)

// Setup is the build's box with its drivers, at an air.
func (b *Build) Setup(a air.Air) bass.Setup {
	s := bass.Setup{Driver: b.Bass.Driver, Box: b.Bass.Box, Boxes: b.Bass.Boxes, Air: a}
	if b.Bass.Part.Kind == catalog.KindSubwoofer {
		s.Displacement = b.Bass.Part.Subwoofer.Displacement
	}
	return s
}

// Drive is what drives them.
func (b *Build) Drive() bass.Drive {
	source, _, _, _ := b.Bass.Amplifier.Amplifier.Spec.Source(b.Plan.Mode)
	return bass.Drive{Outputs: b.Bass.Amplifiers * b.Plan.Outputs, Series: b.Plan.Series, Parallel: b.Plan.Parallel, Source: source, Feed: b.Feed}
}

// Same says whether two builds are made of the same parts, as many of each.
func (b *Build) Same(o *Build) bool { return slices.Equal(b.SKUs(), o.SKUs()) }

// Bought is how many pieces of a part a build takes that are not owned.
func (b *Build) Bought(sku string) int {
	for _, l := range b.Lines {
		if l.Part.SKU == sku {
			return l.Count - l.Owned
		}
	}
	return 0
}

// Holds is how many pieces of a part a build takes, owned ones included.
func (b *Build) Holds(sku string) int {
	for _, l := range b.Lines {
		if l.Part.SKU == sku {
			return l.Count
		}
	}
	return 0
}

// Mentions lists the parts of a build in SKU order.
func Mentions(lines []Line) []catalog.Mention {
	var out []catalog.Mention
	for _, l := range lines {
		out = append(out, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
	}
	slices.SortFunc(out, func(a, b catalog.Mention) int {
		if a.SKU < b.SKU {
			return -1
		}
		return 1
	})
	return out
}

// SKUs are those of a build, sorted, with repeats.
func (b *Build) SKUs() (all []string) {
	for _, l := range b.Lines {
		for range l.Count {
			all = append(all, l.Part.SKU)
		}
	}
	slices.Sort(all)
	return all
}
