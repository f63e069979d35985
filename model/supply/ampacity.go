package supply

import "math"

// Ampacity and fuse. The fuse protects the cable, not the amplifier: whatever
// happens at the far end, the cable must not glow before the fuse melts. So a
// fuse never exceeds what its cable may carry for good.

// allowed is the allowable current in A of single copper conductors with 75 C
// insulation below 50 V outside engine spaces, from 18 AWG to 4/0: ABYC E-11,
// from memory. The 105 C column allows about 30 % more and is not used, since
// what a kit's jacket stands is seldom printed on it.
var allowed = []struct {
	awg  int
	amps float64
}{
	{18, 10}, {16, 15}, {14, 20}, {12, 25}, {10, 40}, {8, 65}, {6, 95}, {4, 125},
	{2, 170}, {1, 195}, {0, 230}, {-1, 265}, {-2, 310}, {-3, 360},
}

// Ampacity is the continuous current, A, that a cable of an area in m2 may
// carry. Between the gauges of the table it is interpolated, both scales
// logarithmic; thinner cables get the share of their area, and thicker ones no
// more than 4/0, both on the safe side. Copper-clad aluminium carries the
// current that heats it as much: I^2 rho is the same.
func Ampacity(area float64, copperClad bool) float64 {
	if !(area > 0) {
		return 0
	}
	amps := copperAmpacity(area)
	if copperClad {
		amps *= math.Sqrt(copper / copperCladAluminium)
	}
	return amps
}

func copperAmpacity(area float64) float64 {
	below := AreaOfGauge(allowed[0].awg)
	if area <= below {
		return allowed[0].amps * area / below
	}
	for i, row := range allowed[1:] {
		above := AreaOfGauge(row.awg)
		if area <= above {
			part := math.Log(area/below) / math.Log(above/below)
			return allowed[i].amps * math.Pow(row.amps/allowed[i].amps, part)
		}
		below = above
	}
	return allowed[len(allowed)-1].amps
}

// fuses are the standard sizes of blade and bolt-in fuses for road vehicles,
// A (ISO 8820-3 and ISO 8820-5, from memory).
var fuses = []float64{
	1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80,
	100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
}

// FuseTolerance is how far a fuse may be above an ampacity: the table is
// rounded to 5 A and a fuse melts well above its size.
const FuseTolerance = 0.01

// LargestFuse is the largest standard fuse, A, that protects a cable of that
// ampacity in A; 0 when none is small enough.
func LargestFuse(ampacity float64) float64 {
	largest := 0.0
	for _, size := range fuses {
		if size <= ampacity*(1+FuseTolerance) {
			largest = size
		}
	}
	return largest
}

// SmallestFuse is the smallest standard fuse, A, that carries a current in A;
// 0 when none is large enough.
func SmallestFuse(amps float64) float64 {
	for _, size := range fuses {
		if size >= amps {
			return size
		}
	}
	return 0
}
