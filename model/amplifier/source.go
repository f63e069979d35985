package amplifier

// Source is one output of the amplifier as its load meets it, at a supply of
// RatedSupply volts: an ideal sine source behind a resistance, which cannot
// pass more than a certain current.
type Source struct {
	OpenVoltage float64 // V rms without load, just below clipping
	Resistance  float64 // ohm, in series
	Current     float64 // A rms, the most it will pass
	Efficiency  float64 // audio watts per watt taken from the supply, near full output
}

// Note is one thing that a reader of the result must know about a rating.
type Note struct {
	Rating  Rating
	Claimed float64 // W of one output, as claimed at RatedSupply
	CutTo   float64 // W of one output used instead; equal to Claimed if nothing was cut
	Reason  string
}
