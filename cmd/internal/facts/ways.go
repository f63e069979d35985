package facts

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// WayNames head the two ways to give bass and doors their power.
var WayNames = [growth.WayCount]string{growth.Apart: "bass now, doors later", growth.Together: "one for both"}

// WaysHead stands above them.
const WaysHead = "Which amplifier to live with"

// WayRow is one step by one goal.
type WayRow struct {
	Goal, Step, Budget string
	Levels             [growth.WayCount]string // "none": that way has no plan
	Behind             string                  // the second less the first
}

// Ways are the rows of the comparison, the sentence that it comes to, and the
// amplifiers behind each of its plans.
func Ways(s Speaker, all []growth.Plans) (rows []WayRow, sentence string, amplifiers []string) {
	var ends []string
	stopped := false
	for _, p := range all {
		name := "on the meter"
		if p.Goal == catalog.GoalMusic {
			name = "with music"
		}
		var both *growth.Step // of the second way, where the first has a plan too
		var first *growth.Step
		for i := range max(len(p.Of[growth.Apart].Steps), len(p.Of[growth.Together].Steps)) {
			row := WayRow{Goal: name, Step: fmt.Sprint(i + 1), Levels: [growth.WayCount]string{"none", "none"}}
			for way := range p.Of {
				if steps := p.Of[way].Steps; len(steps) > i {
					row.Budget, row.Levels[way] = s.Money(steps[i].Budget), Level(s, steps[i].Build.Objective, steps[i].Build.Band())
				}
			}
			if len(p.Of[growth.Apart].Steps) > 0 && len(p.Of[growth.Together].Steps) > 0 {
				if both = &p.Of[growth.Together].Steps[i]; i == 0 {
					first = both
				}
				row.Behind = Signed(s, both.Build.Difference.DB) + " dB" + Mark(both.Build.Difference, both.Build.Tie)
			}
			rows = append(rows, row)
		}
		for way := range p.Of {
			stopped = stopped || p.Of[way].Stop != optimizer.StopComplete
			if words := kept(&p.Of[way]); words != "" {
				amplifiers = append(amplifiers, fmt.Sprintf("%s, %s: %s.", Capital(name), WayNames[way], words))
			}
		}
		switch {
		case both != nil:
			ends = append(ends, fmt.Sprintf("%s one for both is %s, %s", name, gives(s, first.Build.Difference, "now"), gives(s, both.Build.Difference, "at the end")))
		case len(p.Of[growth.Apart].Steps) > 0:
			ends = append(ends, name+" only an amplifier for the bass and another for the doors can be had")
		case len(p.Of[growth.Together].Steps) > 0:
			ends = append(ends, name+" only one for both can be had")
		default:
			ends = append(ends, name+" neither way can be had")
		}
	}
	sentence = Capital(strings.Join(ends, "; ")) + "."
	if stopped {
		sentence += " The search was stopped: either way may have a louder plan."
	}
	return rows, sentence, amplifiers
}

// kept says which amplifiers play at each step of a plan, and for what.
func kept(p *growth.Plan) string {
	var words []string
	before := ""
	for i := range p.Steps {
		b := &p.Steps[i].Build
		text := Times(b.Bass.Amplifiers, Name(b.Bass.Amplifier))
		switch b.Front.Power {
		case optimizer.FromOwn:
			text += ", with " + Name(b.Front.Amplifier) + " for the doors"
		case optimizer.FromBass:
			text += " for bass and doors"
		case optimizer.FromSource:
			text += ", the doors on the radio"
		}
		if text != before {
			words = append(words, fmt.Sprintf("step %d %s", i+1, text))
		}
		before = text
	}
	return strings.Join(words, "; ")
}
