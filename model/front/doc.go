// Package front predicts how loud the front speakers play at the seat.
//
//	pair := front.Stage{
//		Size: 0.165, Sensitivity: 90, Load: 4, Power: 60, // a pair of 16 cm speakers
//		Watts: 50, HighPass: 80,                          // on an amplifier with its filter on
//	}
//	level, usable, limit, notes := pair.Level(front.Room{Length: 2.4, Width: 1.36, Height: 1.12})
//	// 110.8 dB with 17 W a side: cone travel stops it there
//
// # The same footing as the bass
//
// An amplifier clips a voltage, not an average. So the power compared is, here
// as in the bass, that of a continuous sine which just fills the voltage: a
// passage of music whose peaks just fill it averages 6 to 12 dB less, here as
// there (crest factor; common practice, no source), and the difference of the
// two sections, which the music goal balances, is the same. Nothing is added
// for clipping that "nobody hears".
//
// Limits: one level stands for the middle frequencies, about 200 Hz to 2 kHz,
// where a cabin of this size is a room with a diffuse field; below, the cabin's
// modes take over, and above, the speakers' beaming. Distortion and compression
// of the front speakers are left out. A high-pass is taken as an ideal
// Butterworth filter into the nominal load.
package front
