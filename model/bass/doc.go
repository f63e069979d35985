// Package bass predicts how loud a driver in a box in a car gets, and what
// stops it from getting louder.
//
//	p, err := bass.Prepare(bass.Setup{Driver: d, Box: box, Boxes: 1, Air: air.At(20)}, &room)
//	if err != nil {
//		return err
//	}
//	peak := p.Loudest(bass.Drive{
//		Outputs: 1, Series: 1, Parallel: 1,
//		Source: source, Feed: feed,
//	}, bass.Reading())
//	fmt.Printf("%.1f dB at %.0f Hz, held back by %v\n", peak.Level, peak.Hz, peak.Limit)
//
// Prepare does all that does not depend on the amplifier, once; a Prepared then
// answers for one amplifier after another. It remembers what every amplifier
// asks for, so that the first answer takes several times as long as those that
// follow. Many goroutines may share one, and no answer depends on what was
// asked before.
//
// # What is computed
//
// At each frequency everything follows from ONE number, the peak travel of the
// cone in units of Xmax: pressures and flows (package enclosure), the force
// that moves mass, suspension and air, the coil current that makes this force,
// the heat of that current, the voltage that drives it through the hot coil
// against the motion. Nothing has to be iterated. The level is the one at the
// largest travel up to which no limit is passed: amplifier voltage (which sags
// with the supply), amplifier current, supply, travel, heat, port speed.
//
// Large travel is treated by first harmonics (describing functions): force
// factor, stiffness and losses change with travel, and what counts is the part
// at the frequency of the tone. See motor.go.
//
// # A better amplifier never reads lower
//
// Turning the gain up from nothing, the cone passes through every travel until
// the first limit. Write a drive as better than another if it allows every
// travel that the other allows: more open voltage, more current, less internal
// resistance (the load is passive, so |V + I R| falls with R), better efficiency,
// a stiffer supply. The set of travels allowed without interruption from zero
// can then only grow, and the level rises strictly with travel (proved in
// package enclosure). The numerical search keeps this law, whatever shape the
// limits have: see search.go (the definition), rungs.go, rising.go and settle.go
// (how it is reached with few looks). The search for the best build relies on it.
//
// What a search need not compute it bounds: in every box (horizon.go), and for
// the music of one box with every drive (glance.go).
//
// # Limits
//
// A steady tone or burst, no distortion products in the level, one coil
// temperature without its distribution, inductance independent of travel. The
// describing functions stand on two points of the curves (at rest and at Xmax)
// and end at MostOverdrive. The moving mass includes the air that moves with
// the cone in free air; the cabin's pressure, which contains some of the same
// near field, is added to it, which overstates the mass by a few per cent.
package bass
