// Package front predicts how loud the front speakers play at the seat.
package front

// Stage is a pair of front speakers with what drives them, one side's values.
type Stage struct {
	Sensitivity float64 // dB, 1 W, 1 m; 0: the prior of its size
	Load        float64 // ohm
	Power       float64 // W, rated continuous power of one speaker; 0: the prior
	Watts       float64 // W, what the amplifier gives one side into Load
	HighPass    float64 // Hz; 0: none
	Order       int     // of the high-pass: 1 for a bass blocker; 0: 2, as amplifiers and head units have
	Size        float64 // nominal diameter, m
	Fs          float64 // Hz; 0: the prior
	Sd          float64 // m2; 0: the prior
	Xmax        float64 // m, one way, peak; 0: the prior
}

// Room is the cabin at middle frequencies.
type Room struct {
	Length, Width, Height float64 // m
	Absorption            float64 // mean coefficient; 0: the prior
	Distance              float64 // m from a speaker to the ears; 0: the prior
}

// Limit is what stops a front stage from playing louder.
type Limit int

const (
	LimitAmplifier Limit = iota // the amplifier's power
	LimitRating                 // the speakers' rated power
	LimitTravel                 // the cone's travel at the lowest bass it is fed
)

func (l Limit) String() string {
	return [...]string{"amplifier", "speaker rating", "cone travel"}[l]
}

// Note is a value that was assumed, or a remark.
type Note struct {
	Quantity string
	Value    float64 // SI
	Spread   float64 // relative standard deviation; of a level: dB
	Source   string
}

// Level is the level at the seat, dB, of the pair at usable watts a side.
func (s Stage) Level(r Room) (level, usable float64, limit Limit, notes []Note) {
	return 0, 0, LimitAmplifier, nil
}

// HeadUnitCeiling is the most, W, that each channel of a head unit without a
// converter can give a load from a supply voltage.
func HeadUnitCeiling(volts, load float64, channels int) float64 { return 0 }
