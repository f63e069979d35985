package optimizer

import (
	"loudfor/optimizer/build"
	"loudfor/optimizer/memo"
	"loudfor/optimizer/program"
	"loudfor/optimizer/uncertainty"
)

// The types of question and answer, under the names by which callers know them.

type (
	Spot            = uncertainty.Spot
	Expected        = uncertainty.Expected
	AppliedDeal     = build.AppliedDeal
	Bass            = build.Bass
	Build           = build.Build
	Difference      = build.Difference
	Distinct        = build.Distinct
	Drop            = build.Drop
	Fix             = build.Fix
	Front           = build.Front
	FrontPower      = build.FrontPower
	LabourLine      = build.LabourLine
	LadderResult    = build.LadderResult
	Line            = build.Line
	Music           = build.Music
	Outcome         = build.Outcome
	Problem         = build.Problem
	Core            = build.Core
	Progress        = build.Progress
	Proof           = build.Proof
	Purchase        = build.Purchase
	Reading         = build.Reading
	Reason          = build.Reason
	Requirement     = build.Requirement
	RequirementKind = build.RequirementKind
	Result          = build.Result
	Shared          = memo.Shared
	Selection       = program.Selection
	Chosen          = program.Chosen
	Step            = build.Step
	Stop            = build.Stop
	TaxLine         = build.TaxLine
)

const (
	FromNothing       = build.FromNothing
	FromSource        = build.FromSource
	FromBass          = build.FromBass
	FromOwn           = build.FromOwn
	LadderRise        = build.LadderRise
	Noticed           = build.Noticed
	DefaultTop        = build.DefaultTop
	DistinctParts     = build.DistinctParts
	DistinctBass      = build.DistinctBass
	Unknown           = build.Unknown
	Optimal           = build.Optimal
	Feasible          = build.Feasible
	Infeasible        = build.Infeasible
	StopComplete      = build.StopComplete
	StopDeadline      = build.StopDeadline
	StopCancelled     = build.StopCancelled
	StopMemory        = build.StopMemory
	DropNotOffered    = build.DropNotOffered
	DropFit           = build.DropFit
	DropHookup        = build.DropHookup
	DropCap           = build.DropCap
	DropMust          = build.DropMust
	DropKit           = build.DropKit
	DropRest          = build.DropRest
	DropBound         = build.DropBound
	DropOrder         = build.DropOrder
	DropTime          = build.DropTime
	RequireCap        = build.RequireCap
	RequireStock      = build.RequireStock
	RequireStores     = build.RequireStores
	RequireMostStores = build.RequireMostStores
	RequireMust       = build.RequireMust
	RequireNever      = build.RequireNever
	RequireSpace      = build.RequireSpace
	RequireBoot       = build.RequireBoot
	RequireFront      = build.RequireFront
	RequireLoad       = build.RequireLoad
	RequireDrivers    = build.RequireDrivers
	RequireBoxes      = build.RequireBoxes
	RequireAmplifiers = build.RequireAmplifiers
	RequireSignal     = build.RequireSignal
	RequireCable      = build.RequireCable
	RequireKinds      = build.RequireKinds
)
