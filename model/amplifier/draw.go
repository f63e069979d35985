package amplifier

// What the amplifier takes from the car. Efficiency belongs to the working
// principle: a class AB stage burns the difference between its rail and the
// signal, a class D stage only what its switches and filters lose; both pay
// for the converter that makes their rails.

// RatedSupply is the supply, V, to which all ratings are brought: the voltage
// at which CTA-2006 tests (from memory) and at which a charging car runs.
const RatedSupply = 14.4

// Efficiency is audio watts per watt taken from the supply, near full output:
// about 0.6 for class AB (an ideal class B stage has pi/4 = 0.785 at full
// sine, before losses and the converter), about 0.8 for class D (common
// practice, no source). An unstated class is taken midway at 0.7: wrong by at
// most a sixth in power, 0.7 dB, either way.
func (s Spec) Efficiency() float64 {
	switch s.Class {
	case ClassAB:
		return 0.6
	case ClassD:
		return 0.8
	}
	return 0.7
}

// Ceiling is the most continuous audio power, W, that all outputs together
// can give through the fuse: fuse x RatedSupply x efficiency. ok is false when
// the fuse is not stated.
func (s Spec) Ceiling() (watts float64, ok bool) {
	if s.Fuse <= 0 {
		return 0, false
	}
	return s.Fuse * RatedSupply * s.Efficiency(), true
}
