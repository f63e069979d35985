package drive

import (
	"sort"

	"loudfor/model/bass"
)

// The wirings of a class as a bass.Choice: much less than the envelope of them all,
// since voltage goes with coils in parallel and current with coils in series. What
// the money left over can buy is told to the next of some three dozen sums, which
// takes in a little more.

// The pairs of a class are cut by price into driveSetSums parts, of driveSetChoices at
// least.
const driveSetSums, driveSetChoices = 40, 64

// driveSet is the wirings of the first so many pairs.
type driveSet struct {
	choices int
	of      *bass.Choice
}

// DriveSetUnder is the wirings of at least all pairs that cost no more than a sum with
// the cheapest kit and rest.
func (c *CoilLoad) DriveSetUnder(sum int64) *bass.Choice {
	return c.driveSet(sort.Search(len(c.Floors), func(i int) bool { return c.Floors[i] > sum }))
}

// driveSet is the wirings of at least the first so many pairs.
func (c *CoilLoad) driveSet(pairs int) *bass.Choice {
	c.driveSetsOnce.Do(c.buildDriveSets)
	at := sort.Search(len(c.driveSets)-1, func(i int) bool { return c.driveSets[i].choices >= pairs })
	return c.driveSets[at].of
}

// buildDriveSets makes the drive sets of a class.
func (c *CoilLoad) buildDriveSets() {
	var all bass.Choice
	sums := max(1, min(driveSetSums, len(c.Choices)/driveSetChoices))
	for n := range c.Choices {
		p := &c.Choices[n]
		for i := range p.Wirings {
			all.Add(p.Wirings[i].AtCoil.Drive(1).Source)
		}
		if (n+1)*sums/len(c.Choices) > n*sums/len(c.Choices) {
			c.driveSets = append(c.driveSets, driveSet{n + 1, all.Closed()})
		}
	}
}
