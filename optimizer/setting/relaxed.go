package setting

// Relaxation says which rules that stand in no brief are set aside, to find out
// what blocks a problem without a solution.
type Relaxation struct {
	Stock  bool    // stock and limits
	Space  bool    // room for the boxes in the car
	Boot   bool    // the opening that they go through
	Load   bool    // the amplifier's minimum load
	Least  float64 // ohm: no load below it even so
	Signal bool    // a signal path to every amplifier
	Cable  bool    // the kit carries the current
	Amps   float64 // A: no more than that even so; 0: any
	Front  bool    // the front rule
}
