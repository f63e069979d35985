package install

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer/drive"
)

// Power is the way of the current: from the battery through a fuse and a cable
// to the amplifiers and back through the body.
type Power struct {
	Demand   float64 // A, all amplifiers at their ratings
	Run      float64 // m, one way
	Kit      *catalog.Part
	Cable    Cable // the kit's, or the one to buy where there is no kit
	Fuse     float64
	Least    supply.Choice // the thinnest of this material that would do
	LeastOK  bool
	Branches []Branch // from the distribution block; nil with one amplifier

	Alternator, Standby, Reserve float64 // A
	Needed                       float64 // A, an alternator that feeds all of it at idle
}

// Cable is a run with what it carries and loses at the demand.
type Cable struct {
	Name       string // "8 AWG"
	Area       float64
	CopperClad bool
	Ampacity   float64 // A
	Drop       float64 // V, go and return
}

// Branch is the way from the distribution block to one amplifier.
type Branch struct {
	Amplifier string
	Amps      float64
	Choice    supply.Choice
	Fuse      float64
}

const (
	// branchRun and branchDrop: amplifiers stand close to their distribution
	// block, and what is lost there comes on top of the feed's loss (common
	// practice, no source).
	branchRun  = 1.0 // m
	branchDrop = 0.2 // V
)

// feed fills in Power; the error says what cannot be.
func (p *Plan) feed() error {
	v := &p.Question.Vehicle
	w := &p.Power
	w.Demand, w.Run, w.Kit = p.Build.Demand, v.CableRun, p.of(catalog.KindKit)
	w.Alternator, w.Standby = v.Alternator, v.Standby
	if a := p.Question.Brief.Alternator; a > 0 {
		w.Alternator = a
	}
	w.Reserve = supply.Reserve(w.Alternator, w.Standby)
	w.Needed = supply.AlternatorFor(w.Demand, w.Standby)

	need := supply.Need{Amps: w.Demand, Length: w.Run, Drop: p.Wishes.Drop}
	if w.Kit != nil {
		need.CopperClad = w.Kit.Kit.CopperClad
	}
	least, err := supply.Choose(need)
	w.Least, w.LeastOK = least, err == nil
	kit := supply.Kit{Area: least.Area, Length: w.Run, Fuse: supply.SmallestFuse(w.Demand)}
	if w.Kit != nil {
		k := w.Kit.Kit
		kit = supply.Kit{Area: k.Area, Length: w.Run, CopperClad: k.CopperClad, Fuse: k.Fuse}
		// The kit is judged by itself below; what no cable can do is no fault
		// of the run's length or the drop unless these cannot be.
		if need.Length > 0 && need.Drop < supply.RunningVolts-supply.DropoutVolts {
			err = nil
		}
	}
	if err != nil {
		return err
	}
	w.Cable = Cable{Name: gauge(kit.Area), Area: kit.Area, CopperClad: kit.CopperClad,
		Ampacity: supply.Ampacity(kit.Area, kit.CopperClad), Drop: w.Demand * supply.Resistance(kit.Area, w.Run, kit.CopperClad)}
	if w.Fuse, err = kit.FuseFor(w.Demand); err != nil {
		if c := w.Least; w.LeastOK {
			err = fmt.Errorf("%w; %s would do, with a fuse of at most %g A", err, supply.GaugeName(c.Gauge), c.Fuse)
		}
		return p.blame(err)
	}
	if wish := p.Wishes.Fuse; wish > 0 {
		if err := kit.CheckFuse(wish); err != nil {
			return p.blame(err)
		}
		if wish < w.Demand {
			return p.blame(&supply.Refusal{Quantity: "fuse of", Value: wish, Unit: "A", Reason: fmt.Sprintf("it melts at the %.0f A that the amplifiers can draw", w.Demand)})
		}
		w.Fuse = wish
	}
	return p.branch()
}

// blame says of which part a refusal speaks.
func (p *Plan) blame(err error) error {
	if p.Power.Kit != nil {
		err = fmt.Errorf("%s: %w", p.Power.Kit.SKU, err)
	}
	return err
}

// branch fills in the ways behind the distribution block.
func (p *Plan) branch() error {
	var all []Branch
	for _, a := range p.amplifiers() {
		for range a.count {
			spec := a.part.Amplifier.Spec
			// The branch also stands the amplifier's own fuses, so that those
			// go before the one at the block.
			b := Branch{Amplifier: a.part.SKU, Amps: math.Max(drive.Draw(spec), spec.Fuse)}
			var err error
			if b.Choice, err = supply.Choose(supply.Need{Amps: b.Amps, Length: branchRun, Drop: branchDrop}); err != nil {
				return fmt.Errorf("%s: %w", a.part.SKU, err)
			}
			b.Fuse = supply.SmallestFuse(b.Amps)
			all = append(all, b)
		}
	}
	if len(all) > 1 {
		p.Power.Branches = all
	}
	return nil
}

// Short says whether the alternator cannot feed the amplifiers at idle.
func (w *Power) Short() bool { return w.Demand > w.Reserve }

// Music is the current that music takes on average, A.
func (w *Power) Music() float64 { return w.Demand * supply.MusicShare }

// gauge names an area: by its gauge if it is one, else in square millimetres.
func gauge(area float64) string {
	const alike = 0.01 // a card's rounded square millimetres
	if awg, ok := supply.GaugeOf(area * (1 - alike)); ok && math.Abs(supply.AreaOfGauge(awg)/area-1) <= alike {
		return supply.GaugeName(awg)
	}
	return fmt.Sprintf("%.3g mm2", area*1e6)
}

func material(clad bool) string {
	if clad {
		return "copper-clad aluminium"
	}
	return "copper"
}
