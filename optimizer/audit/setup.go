package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/front"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/verify"
)

// What brief, vehicle and claim fix for all blocks.

func newAuditor(q Question) *auditor {
	a := &auditor{Question: q, brief: q.Brief, bySKU: map[string]*piece{}, wirings: map[coils][]wiring{}}
	b, d, v := &a.brief, catalog.DefaultBrief(), &a.Vehicle
	for n, usual := range map[*int]int{&b.Boxes: d.Boxes, &b.Drivers: d.Drivers, &b.Amplifiers: d.Amplifiers} {
		if *n <= 0 {
			*n = usual
		}
	}
	a.medium = air.At(b.Celsius)
	rating := b.Alternator
	if !(rating > 0) {
		rating = v.Alternator
	}
	a.feed = supply.Feed{Volts: supply.RunningVolts, BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance, Reserve: supply.Reserve(rating, v.Standby)}
	a.limits = bass.Reading()
	if b.Overdrive > 0 {
		a.limits.Overdrive = b.Overdrive
	}
	if b.Burst > 0 {
		a.limits.Burst = b.Burst
	}
	inside := v.Body.Cavity
	a.cabin = front.Room{Length: inside.Length, Width: inside.Width, Height: inside.Height}
	if a.space = b.Space; a.space == (catalog.Size3{}) {
		a.space = v.Space
	}
	if a.music = b.Goal == catalog.GoalMusic; a.music {
		a.limits = bass.Music()
		a.Room = new(cabin.Response)
		bass.BandsOnly(q.Room, a.Room)
	}
	a.stock()
	a.claimed = &Found{Level: build.Silent, due: boundless}
	a.target = math.Inf(-1)
	if q.Claim != nil {
		a.claim()
	}
	a.fronts()
	return a
}

func (a *auditor) leave(why string) {
	if !slices.Contains(a.report.Left, why) {
		a.report.Left = append(a.report.Left, why)
	}
}

// claim reads the claimed build: only its parts and its level.
func (a *auditor) claim() {
	var mentions []catalog.Mention
	for _, l := range a.Claim.Lines {
		mentions = append(mentions, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
	}
	slices.SortFunc(mentions, func(m, n catalog.Mention) int { return cmp.Compare(m.SKU, n.SKU) })
	due, ok := a.due(mentions)
	if !ok || due > a.limit {
		a.report.Fault = "the claimed build cannot be had for the money"
	}
	if cost := verify.RoundHalfUp(due + a.fixed); ok && cost != a.Claim.Cost.Minor {
		a.report.Fault = "the claimed build costs " + a.money(due).String() + ", not " + a.Claim.Cost.String()
	}
	a.claimed = &Found{Parts: mentions, Level: build.Round(a.Claim.Objective), due: due}
	a.aim()
}

// aim is what the bass of the claim reaches, less the slack.
func (a *auditor) aim() {
	a.target = a.claimed.Level.DB() - slack
	if a.music {
		a.target += a.brief.BassLift
	}
}

func (a *auditor) money(due int64) catalog.Money {
	return catalog.Money{Minor: verify.RoundHalfUp(due + a.fixed), Currency: a.Catalogue.Currency}
}
