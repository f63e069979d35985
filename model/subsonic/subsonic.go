// Package subsonic finds where a bass filter has to cut the lowest notes.
//
//	s, err := subsonic.Find(bass.Setup{Driver: d, Box: box, Boxes: 1, Air: a}, drive, volts, 4)
//	// s.Exceeds: 27 Hz, where the cone passes Xmax at these volts
//	// s.Corner:  29 Hz, the lowest setting of a 24 dB an octave filter that keeps it within
//
// Below its tuning a vented box no longer loads the cone: port and cone cancel,
// the air offers no stiffness, and the cone moves as if there were no box, more
// than anywhere else for the same voltage (Small 1973: the displacement
// function). Music has little there and test tones, bumps and rumble have
// much; so the filter costs nothing that can be heard and saves the driver. A
// closed box holds its cone down to zero frequency and needs a filter only
// where the amplifier is stronger than the driver at any frequency.
//
// Limits: travel is linear and cold, which is a little more than it really is,
// and the car is left out (its air stiffens the cone, shut most of all, open
// hardly): both err on the safe side.
package subsonic

import (
	"math"

	"loudfor/model/bass"
	"loudfor/model/cabin"
)

const (
	// lowest frequency looked at, Hz. Nothing that plays music reaches below.
	lowest = 8.0

	// perOctave frequencies are looked at. Travel is smooth there: between two
	// it changes by less than 3 %.
	perOctave = 48

	// openDistance: the receiver does not matter for travel.
	openDistance = 1.0

	// closest is how near to the tuning the filter may come, as a part of it:
	// at the tuning itself the cone hardly moves and there is only sound to
	// lose (common practice, no source).
	closest = 0.95

	// highestSealed, Hz, is the highest setting worth having for a box without
	// a tuning (common practice, no source: below 40 Hz it is still subsonic).
	highestSealed = 40.0
)

// Setting is what was found.
type Setting struct {
	Tuning  float64 // Hz; 0: no port
	Exceeds float64 // Hz, the highest frequency below the tuning at which Xmax is passed; 0: none
	Corner  float64 // Hz, whole, of the filter; 0: none is needed
	// Enough is false where even the highest sensible corner lets the cone
	// pass Xmax below the tuning; Volts is then what it stands with it.
	Enough bool
	Volts  float64 // V rms at each output that the cone stands with the filter
}

// Find looks for the lowest whole corner, Hz, of a Butterworth high-pass of an
// order at which volts rms on each output move no cone past Xmax below the
// box's tuning. The error is that of bass.Prepare.
func Find(s bass.Setup, d bass.Drive, volts float64, order int) (Setting, error) {
	grid := frequencies()
	room := cabin.OpenField(grid, openDistance, s.Air)
	p, err := bass.Prepare(s, &room)
	if err != nil {
		return Setting{}, err
	}
	c := p.Circuit()
	found := Setting{Tuning: c.Tuning, Enough: true}
	top := closest * c.Tuning
	if c.Tuning == 0 {
		top = highestSealed
	}
	var travel []float64 // in Xmax, below the top
	for i, hz := range grid {
		if hz > top {
			break
		}
		travel = append(travel, p.SmallSignal(i, d, volts).Travel/s.Driver.Xmax)
		if travel[i] > 1 {
			found.Exceeds = hz
		}
	}
	found.Volts = volts
	if found.Exceeds == 0 {
		return found, nil
	}
	last := math.Floor(top)
	for corner := math.Ceil(lowest); ; corner++ {
		if most := filtered(grid, travel, corner, order); most <= 1 || corner >= last {
			found.Corner, found.Enough = corner, most <= 1
			if !found.Enough {
				found.Volts = volts / most
			}
			return found, nil
		}
	}
}

// filtered is the largest travel behind a Butterworth high-pass.
func filtered(grid, travel []float64, corner float64, order int) float64 {
	most := 0.0
	for i, x := range travel {
		most = max(most, x/math.Sqrt(1+math.Pow(corner/grid[i], 2*float64(order))))
	}
	return most
}

func frequencies() []float64 {
	var all []float64
	for i := 0; i <= 4*perOctave; i++ {
		all = append(all, lowest*math.Exp2(float64(i)/perOctave))
	}
	return all
}
