// Package cabin predicts what a car does to the sound of a box in it: the
// pressure at a place for the air that a cone moves, with doors and windows
// shut or open, and what the cabin does back to the cone.
//
//	car, _ := cabin.BodyNamed("small sedan")
//	r, err := car.Respond([]float64{30, 40, 50}, "dash", "doors open", 20)
//	// r.Transfer[1] is p/U at 40 Hz, Pa per m3/s
//
// The car is a rectangular cavity whose six walls absorb a little, given by
// their specific admittance or by the Q of its lowest mode, and by the power of
// frequency that it goes with. Inside, the
// pressure is a sum of damped modes, the uniform one (the pressure zone)
// included, plus a static remainder that stands for all higher modes. An
// opening is split into tiles; each lets air out against the mass and the
// resistance of the air outside, where tiles on one side of the car feel each
// other, and the system of all tiles is solved at each frequency. Two tilings
// are extrapolated to endlessly many tiles. A door has a [Leaf] at an angle, and
// the ground and the end of the car's side change its air ("doors open 45
// degrees" and "left door open" are understood beside the car's own sets).
//
// A [Body] is a car: a cavity with named places, named sets of openings, the
// place of the box, the spread of all that, and the list of what was assumed.
// [Bodies] are typical body styles. A measured [Curve] overrides the computed
// level. [Body.Ensemble] draws cars that the one at hand could be.
//
// # Accuracy and limits
//
// Against a finite-difference solve of the same box, the error is a few tenths
// of a decibel from 25 to 80 Hz; with doors and their leaves, against a solve in
// three dimensions of the car on the ground, 1.3 dB at 60 to 90 degrees, 1.7 at 30
// to 45, 1.0 without leaves, 20 to 80 Hz. A real cabin is not a box: panels flex, seats
// divide it, the boot couples through the seat back. Before any reading was
// taken in the car, the shape of the curve is right to a few decibels, and at
// the resonance the assumed damping decides. All walls absorb alike, with the
// loss of each mode taken to first order, as is what panels give way. Openings on
// different sides do not couple outside. One door alone, leaves beyond 90 degrees
// and those of boot lids and tailgates take the equations of two front doors.
// Seats and dashboard are left out and widen the bands. Frequencies run from 0.1 to 500 Hz; above some 200 Hz
// the seats and the trim have more to say than the box. An opening a hundred
// times smaller than its wall is computed with too little inner inertance.
//
// Sources: H. Kuttruff, Room Acoustics (modes, damping); P. Morse and K.
// Ingard, Theoretical Acoustics (the cavity's Green function); L. Beranek and
// T. Mellow, Acoustics: Sound Fields and Transducers (radiation).
package cabin
