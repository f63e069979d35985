package optimizer

// relaxed says which rules that stand in no brief are set aside, to find out
// what blocks a problem without a solution.
type relaxed struct {
	stock  bool    // stock and limits
	space  bool    // room for the boxes in the car
	boot   bool    // the opening that they go through
	load   bool    // the amplifier's minimum load
	least  float64 // ohm: no load below it even so
	signal bool    // a signal path to every amplifier
	cable  bool    // the kit carries the current
	amps   float64 // A: no more than that even so; 0: any
	front  bool    // the front rule
}
