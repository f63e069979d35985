package cabin

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// An open door is no flat hole in an endless wall. The side of a car ends at
// its sill and roof, the ground throws the sound back, and the air between the
// leaf and the car's side has to move too, most of it near the hinge. For two
// tiles i and j of a hole with a leaf, over j w rho / (2 pi):
//
//	kappa F_ij + gamma exp(-j k r')/r' + 2 pi (a/l) cot(theta/2) u_i u_j
//
// F is the flat hole in an endless wall (see outside.go), r' the distance to the
// other tile's image in the ground, theta the angle between leaf and wall, l the
// length of the leaf and u = 2 (1 - s/l) at the distance s from the hinge, so
// that its mean is 1. The last term is an inertance of rank one: it loses
// nothing. kappa, gamma and a were fitted, not derived, to a three-dimensional
// finite-difference time-domain solve of two cars computed for this project
// (leaves at 30, 45, 65 and 90 degrees, and none; both front doors alike, 20 to
// 80 Hz); a test holds the model against it.
//
// Beyond 90 degrees nothing was computed. A leaf turned by 180 degrees lies
// along the wall and is no leaf; between the two the constants go from one to
// the other in a straight line over the angle, so that they differ by no step.
// Below 30 degrees the inertance grows on as the formula says. Above 120 Hz
// nothing was fitted: over an octave the hole becomes the flat one again.
//
// A leaf hinged at the top (tailgate, boot lid), at the bottom or at the rear
// edge is taken by the same form, its length in place of the door's: derived by
// likeness, not computed. Windows have no leaf and stay the flat hole, which is
// within 0.7 dB of the solve with ground and a car of finite size.

// Edge is where a leaf is hinged.
type Edge int

// The edges of an opening as one stands before it in the car's own axes: Near
// is the edge of small U (the front edge of a door in the side, the left one of
// a hatch), Far that of large U, Bottom and Top those of V.
const (
	Unhinged Edge = iota // nothing hangs there: a window
	Near
	Far
	Bottom
	Top
)

// Leaf is what hangs on the hinge of an opening; its length is that of the
// opening across the hinge.
type Leaf struct {
	Hinge Edge
	Angle float64 // between leaf and wall, rad; pi: no leaf
	// Spread is one standard deviation of the angle, rad.
	Spread float64
}

const (
	degree = math.Pi / 180
	// leastAngle is as far as a draw may shut a leaf: the inertance runs away
	// towards zero, and the fit ends at StraightestLeaf.
	leastAngle = 20 * degree
	// LeastLeaf and MostLeaf bound what may be stated of a leaf, degrees: the
	// least that was computed, and a leaf along the wall.
	LeastLeaf, MostLeaf = 30, 180
	// StatedAngle is the spread of an angle that somebody looked at, rad (common
	// practice, no source).
	StatedAngle = 3 * degree
)

// radiation is how a hole differs outside from the flat one in an endless wall.
type radiation struct{ kappa, gamma, lean float64 }

// The constants of the fit.
var (
	flatHole    = radiation{kappa: 1}
	withoutLeaf = radiation{kappa: 0.908, gamma: 0.623}
	withLeaf    = radiation{kappa: 0.784, gamma: 1.214, lean: 0.119}
)

// radiation gives the constants at low frequencies; lean has the cotangent in
// it.
func (l Leaf) radiation() radiation {
	if l.Hinge == Unhinged {
		return flatHole
	}
	off := max(0, l.Angle/(math.Pi/2)-1) // 0 with the leaf square to the wall, 1 without
	mix := func(with, without float64) float64 { return with + off*(without-with) }
	return radiation{
		kappa: mix(withLeaf.kappa, withoutLeaf.kappa),
		gamma: mix(withLeaf.gamma, withoutLeaf.gamma),
		lean:  mix(withLeaf.lean, withoutLeaf.lean) / math.Tan(l.Angle/2),
	}
}

const (
	fittedTo = 120.0 // Hz: above it the constants fade
	flatFrom = 240.0 // Hz: the flat hole from here
)

// fitted is the share of the constants that is left at a frequency.
func fitted(hz float64) float64 {
	switch {
	case hz <= fittedTo:
		return 1
	case hz >= flatFrom:
		return 0
	}
	return (1 + math.Cos(math.Pi*math.Log2(hz/fittedTo)/math.Log2(flatFrom/fittedTo))) / 2
}

// hung gives each tile of an opening, the hole of that number, what its leaf
// does to it.
func (o Opening) hung(list []tile, hole int) {
	r := o.Leaf.radiation()
	across, length := o.Leaf.across(o)
	for i := range list {
		t := &list[i]
		t.hole, t.kappa, t.gamma = hole, r.kappa, r.gamma
		if across == nil {
			continue
		}
		u := 2 * (1 - across(*t)/length)
		t.lean = math.Sqrt(2*math.Pi*r.lean/length) * u
	}
}

// across gives the distance of a tile from the hinge, and the leaf's length.
func (l Leaf) across(o Opening) (func(tile) float64, float64) {
	switch l.Hinge {
	case Near:
		return func(t tile) float64 { return t.u.mid() - o.U }, o.Width
	case Far:
		return func(t tile) float64 { return o.U + o.Width - t.u.mid() }, o.Width
	case Bottom:
		return func(t tile) float64 { return t.v.mid() - o.V }, o.Height
	case Top:
		return func(t tile) float64 { return o.V + o.Height - t.v.mid() }, o.Height
	}
	return nil, 0
}

// turned is the leaf moved by z standard deviations.
func (l Leaf) turned(z float64) Leaf {
	if l.Hinge != Unhinged {
		l.Angle = min(max(l.Angle+l.Spread*z, leastAngle), math.Pi)
	}
	return l
}

func (o Opening) checkLeaf() error {
	l := o.Leaf
	switch {
	case l.Hinge < Unhinged || l.Hinge > Top:
		return fmt.Errorf("%v: edge %d is none to hang a leaf on", o, int(l.Hinge))
	case l.Hinge == Unhinged:
		return nil
	case o.Wall == Floor || o.Wall == Roof:
		return fmt.Errorf("%v: a leaf is computed in an upright wall only", o)
	case !finite(l.Angle) || l.Angle < leastAngle-touch || l.Angle > math.Pi+touch:
		return fmt.Errorf("%v: its leaf stands at %.3g degrees: it must lie between %d and %d", o, l.Angle/degree, LeastLeaf, MostLeaf)
	case !finite(l.Spread) || l.Spread < 0 || l.Spread > 1:
		return fmt.Errorf("%v: the spread of its leaf's angle is %g rad: it must lie between 0 and 1", o, l.Spread)
	}
	return nil
}

// Doors as they stand when a meter is read (common practice, no source): held
// by the second notch of their check strap at about 65 degrees, nine in ten
// between 48 and 82. Tailgates and boot lids stand about square to their hole,
// and since their form is taken over from doors, not computed, their angle is
// taken as known only to 20 degrees.
const (
	doorAngle, doorSpread = 65 * degree, 10.5 * degree
	lidAngle, lidSpread   = 85 * degree, 20 * degree
)

// Usual is what hangs on an opening in a wall as long as nobody says: a door on
// its front edge in the sides, a lid on its upper edge in front and rear.
func (w Wall) Usual() Leaf {
	switch w {
	case Left, Right:
		return Leaf{Hinge: Near, Angle: doorAngle, Spread: doorSpread}
	case Front, Rear:
		return Leaf{Hinge: Top, Angle: lidAngle, Spread: lidSpread}
	}
	return Leaf{}
}

// The words that turn a set of openings into another: "doors open 45 degrees"
// is the car's "doors open" with its leaves at that angle, and "left door open"
// the part of it on that side.
var degreeWords = []string{" degrees", " degree", " deg", "°"}

// sides are the words for the openings of one side.
var sides = []struct {
	word string
	wall Wall
}{{"left ", Left}, {"right ", Right}}

// OpeningWords lists what the car can stand with, for messages.
func (b Body) OpeningWords() string {
	words := strings.Join(b.OpeningNames(), ", ")
	for _, s := range b.Sets {
		if hasLeaf(s.Openings) {
			return words + fmt.Sprintf("; or with an angle from %d to %d degrees, such as %q; or one side, such as \"left door open\"", LeastLeaf, MostLeaf, s.Name+" 45 degrees")
		}
	}
	return words
}

// DerivedNames are sets of openings worth offering beside the car's own: its
// doors wide open and half shut, and one of them alone.
func (b Body) DerivedNames() []string {
	var names []string
	for _, name := range []string{"doors open 45 degrees", "doors open 80 degrees", "left door open", "right door open"} {
		if _, ok := b.Openings(name); ok {
			names = append(names, name)
		}
	}
	return names
}

// derived makes a set of openings from one of the car's by its words.
func (b Body) derived(name string) ([]Opening, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, unit := range degreeWords {
		rest, ok := strings.CutSuffix(name, unit)
		if !ok {
			continue
		}
		rest = strings.TrimSpace(rest)
		at := strings.LastIndexByte(rest, ' ')
		if at < 0 {
			return nil, false
		}
		angle, err := strconv.ParseFloat(rest[at+1:], 64)
		if err != nil || !(angle >= LeastLeaf && angle <= MostLeaf) {
			return nil, false
		}
		set, ok := b.named(rest[:at])
		if !ok {
			set, ok = b.side(rest[:at])
		}
		return leavesAt(set, angle*degree), ok && hasLeaf(set)
	}
	return b.side(name)
}

// side is the openings of one side: "left door open" of "doors open".
func (b Body) side(name string) ([]Opening, bool) {
	for _, s := range sides {
		rest, ok := strings.CutPrefix(name, s.word)
		one, open, both := strings.Cut(rest, " ")
		if !ok || !both {
			continue
		}
		set, _ := b.named(one + "s " + open)
		var list []Opening
		for _, o := range set {
			if o.Wall == s.wall {
				list = append(list, o)
			}
		}
		return list, len(list) > 0
	}
	return nil, false
}

func hasLeaf(set []Opening) bool {
	for _, o := range set {
		if o.Leaf.Hinge != Unhinged {
			return true
		}
	}
	return false
}

func leavesAt(set []Opening, angle float64) []Opening {
	list := make([]Opening, len(set))
	for i, o := range set {
		if o.Leaf.Hinge != Unhinged {
			o.Leaf.Angle, o.Leaf.Spread = angle, StatedAngle
		}
		list[i] = o
	}
	return list
}
