package front

// Stage is a pair of front speakers with what drives them. All values are
// those of one side; a value that is zero or negative is not stated.
type Stage struct {
	Sensitivity float64 // dB, 1 W, 1 m, half space; not stated: the prior of its size
	Load        float64 // ohm, nominal; Watts is the power into it
	Power       float64 // W, rated continuous power of one speaker; not stated: the prior
	Watts       float64 // W, what the amplifier gives one side into Load
	HighPass    float64 // Hz; 0: none
	Order       int     // of the high-pass: 1 for a bass blocker; 0: 2, as amplifiers and head units have
	Size        float64 // nominal diameter, m; not stated: usualSize
	Fs          float64 // Hz; not stated: the prior
	Sd          float64 // m2; not stated: the prior
	Xmax        float64 // m, one way, peak; not stated: the prior
}

// Room is the cabin at middle frequencies. A value that is zero or negative is
// not stated.
type Room struct {
	Length, Width, Height float64 // m; not stated: those of a small sedan
	Absorption            float64 // mean coefficient of all surfaces; not stated: the prior
	Distance              float64 // m from a speaker to the ears; not stated: the prior
}

// Limit is what stops a front stage from playing louder.
type Limit int

const (
	LimitAmplifier Limit = iota // the amplifier's power
	LimitRating                 // the speakers' rated power
	LimitTravel                 // the cone's travel at the lowest bass it is fed
)

func (l Limit) String() string {
	if l < LimitAmplifier || l > LimitTravel {
		return "unknown limit"
	}
	return [...]string{"amplifier", "speaker rating", "cone travel"}[l]
}

// RecommendedWatts is the least power a side that makes a front stage worth
// hearing (common practice, no source). Far more than that, into a pair of the
// value class, only sounds harsh.
const RecommendedWatts = 10.0

// Note is a value that was assumed, or a remark on one that was stated.
type Note struct {
	Kind     NoteKind
	Quantity string
	Value    float64 // SI
	Spread   float64 // of an assumed value: relative standard deviation; of a level: dB
	Source   string  // where it comes from, or what to do about it
}

// NoteKind tells the kinds of notes apart.
type NoteKind int

const (
	Assumed NoteKind = iota // the value came from a prior
	Remark                  // the value is as stated; Source says what to know about it
)
