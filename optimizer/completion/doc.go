// Package completion lists what completes a bass system: a source, a pair of front
// speakers, what drives them, and a line converter and a bass blocker where the signal
// path or the rule for new speakers asks for them.
//
//	lists := completion.New(gear)
//	l := lists.List(completion.Key{Speaker: true}, money)
//	cheapest, price := l.All[0], l.Cost.PriceOf(level)
//
// A list is a Pareto list: of completions that others outrank as often as builds are
// ranked (in price, level of the front, and current) none is in it (list_filter.go,
// stage_filter.go, undominated.go). What reaching a level costs at least is its
// CostToReach, a rising step function.
//
// Bass and completion meet in the money, the current, and a few features of the bass
// amplifier, which are the Key.
//
// Limits: one source and one pair of front speakers; no part is idle.
package completion
