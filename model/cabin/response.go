package cabin

// Response is what a car does to the sound of a box, over frequency: all
// slices have the length of Hz.
type Response struct {
	Hz []float64
	// Transfer is p/U from the source to the receiver, Pa per m3/s.
	Transfer []complex128
	// Back is the average pressure over the source for its own U: what the
	// cavity does back to the cone, Pa per m3/s.
	Back []complex128
}
