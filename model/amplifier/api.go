package amplifier

// Source fits the source of one output in mode m.
func (s Spec) Source(m Mode) (src Source, minimumLoad float64, notes []Note, ok bool) {
	return Source{}, 0, nil, false
}

// Modes lists the modes that the ratings cover, in the order of the constants.
func (s Spec) Modes() []Mode { return nil }

// Outputs is how many outputs of mode m the amplifier has.
func (s Spec) Outputs(m Mode) int { return 0 }

// RatedWatts is what one output gives a load, W; 0 below the minimum load.
func (s Spec) RatedWatts(m Mode, load float64) float64 { return 0 }

// Spread is the relative standard deviation of the voltage in mode m.
func (s Spec) Spread(m Mode) float64 { return 0 }

// Efficiency is audio watts per watt taken from the supply.
func (s Spec) Efficiency() float64 { return 0 }

// Idle is the current taken without a signal, A.
func (s Spec) Idle() float64 { return 0 }

// Check lists every number of the spec that cannot be right.
func (s Spec) Check() error { return nil }
