package optimizer

import (
	"loudfor/model/bass"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
)

// A search ends early when its context does, or when what it keeps would take more
// memory than it may. Every loop that can be long asks for that, from the lists that
// are made beforehand to the pairs of one block. What a loop leaves undone is open: a
// list that was cut leaves the group that asked for it open, under its ceiling; and
// where the preparation itself was cut, its bounds say nothing, and all groups are
// open under what no amplifier whatever could exceed. So the gap is honest whenever
// the end comes.

// halted leaves the group at hand open if the search has to end, and says so.
func (w *worker) halted() bool {
	if !w.find.cut && !w.Ended() {
		return false
	}
	w.leaveOpen()
	return true
}

func (w *worker) leaveOpen() {
	w.find.cut = true
	w.find.openBound = max(w.find.openBound, w.group.ceiling)
}

// unprepared leaves everything open where the preparation was cut, and says so. Groups
// are bounded by a source stronger than any.
func (s *search) unprepared(groups []*group) bool {
	if !s.Ended() {
		return false
	}
	var h bass.Horizon
	s.total.best = nil
	s.openings(groups)
	for _, g := range groups {
		s.lookAs(&h, g, drive.CoilSource{Voltage: anyVoltage, Current: anyCurrent, Efficiency: 1})
		g.ceiling = s.beyond(&h, g.opening)
		s.ledger.pairs[DropTime] += uint64(len(g.housing)) * s.ChoiceSlots()
		s.openBound = max(s.openBound, g.ceiling)
		s.openFront = append(s.openFront, completion.Step{Price: g.Price(g.housing[0]), Level: g.ceiling})
	}
	return true
}

// anyVoltage and anyCurrent are more than any amplifier gives a coil, V and A.
const anyVoltage, anyCurrent = 1e4, 1e4
