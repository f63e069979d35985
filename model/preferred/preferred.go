// Package preferred picks component values that can be bought.
package preferred

// Series is a series of preferred numbers: how many steps it has per decade.
type Series int

const (
	E3  Series = 3
	E6  Series = 6
	E12 Series = 12
	E24 Series = 24
)

// Nearest is the preferred value nearest to value by ratio; 0 for a value that is not positive.
func Nearest(value float64, s Series) float64 { return 0 }

// Blocker is the nearest E6 capacitance, F, of a first-order high-pass at hz into load ohm.
func Blocker(load, hz float64) float64 { return 0 }

// Corner is the frequency, Hz, at which a capacitance blocks bass from a load.
func Corner(load, capacitance float64) float64 { return 0 }
