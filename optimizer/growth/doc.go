// Package growth finds the best way to buy a system in steps: what to buy for the money
// that is there now, so that it is the right thing to have when more money comes.
//
//	plan, err := growth.Solve(ctx, optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: car})
//	if err != nil {
//		return err
//	}
//	for _, s := range plan.Steps {
//		fmt.Println(s.Build.Cost, s.Build.Objective, s.Idle)
//	}
//
// # What a plan is
//
// A brief with steps says how much may have been spent by each of them. A plan has one
// build for each step, and each is a build of the brief by all its rules (package
// optimizer): as if the brief had the money of that step as its cap, and as owned, in
// addition to what it names, all that the plan has bought at earlier steps and not
// sold. So what was bought before costs nothing any more. It is used, or it lies idle,
// or it is sold, if the brief has a resale: for that share of its price before any step but
// the first, and at the last step all is sold that is not used. Money that is left over
// is there at the next step.
//
// The price that a resale is a share of is the least that a piece can cost: what the
// cheapest shop asks that the brief allows, or what a deal leaves of it, a set being split in
// proportion to the prices of its parts, and a set of parts of different taxes
// counting for nothing.
//
// Nothing is bought that the build of its step does not use: a larger amplifier is, one for
// speakers that do not play yet is not. Stock and limits of the catalogue hold at each
// step anew, and so do the number of shops, the trips and the deals; labour is paid
// at each step for what is bought, and where it is for installed pieces, for all of the
// build. Prices are the same at all steps.
//
// # The order of plans
//
// Levels are compared in thousandths of a dB, money as the till has it.
//
//   - last: the louder last step; then the louder step before it, and so on to the
//     first.
//   - first: the louder first step; then as last.
//   - fair: the smaller shortfall, then the less thrown away, then as last. A step's
//     shortfall is by how much it is more than 1 dB below the best from nothing with
//     all the money so far; a plan's is that of its worst step. What is thrown away is
//     the price of all pieces bought that the last step does not use, less
//     what they were sold for.
//
// Then the less money spent, less sales; then the fewer pieces and the earlier SKUs, of
// the first step, of the second, and so on. That is a total order.
//
// # How it is searched, and why nothing is missed
//
// There are too many first sets of parts to go on from each, and none may be left out
// because another one is louder for less: that one may have nothing that the end can
// use. What counts is what a set can become. So sets of builds of one step are bounded
// by a problem in which the tie between the steps is forgotten.
//
// A node is the set of the builds of a step that hold at least so many pieces of some
// parts, and at most so many of others (node.go). Let M be what its rules say is
// bought, c(M) the least that it costs, and T the money of a later step, less all that
// was spent before.
//
// Theorem. No plan through the node has a later step louder than the best build for T - c(M)
// with M owned, in a shop where each piece has its lower bound as its price, its stock
// times the number of visits, and where no shop asks for a trip (relax.go).
//
// Proof. Let B be the plan's build of the node, and E its later one. Together the plan
// pays for the pieces of B, among which is M, and at some step for those of E that B
// did not leave it, in separate visits. Each visit costs no less than the sum of the lower
// bounds of its pieces, rounded once. So c(M) and the lower bounds of E without M are
// within T, but for one minor unit a visit. E keeps the rules of the build in the
// relaxed shop as well, or with a part less, which is no quieter (relax.go). With a
// resale, what M could be sold for is added to T while M stays owned: one of the two
// is true of each piece. What else is sold was bought for no less. QED.
//
// M alone says little: while it is empty, the end has all the money. But each build has a
// bass block, an amplifier, a kit and a source, and of what the later step has of
// them a build of the node may be unable to pay for some. Then it has others, which the
// later step does not use (tie.go). So let w(E) be the least, over the choices of which
// driver, enclosure, amplifier and kit of E the node's build has, that the others for those
// that it does not have lose (their price less what they are sold for), of those
// choices that the money of the node's step pays for. By the same proof the bound is
// the best E for T - c(M) - w(E). The search for a build takes w with it to each block and
// pair that it opens (Problem.Aside), so the bound costs no more than a search without
// it. Under the order fair a choice that throws away more than the best plan, if that
// falls short of nothing, counts for nothing.
//
// Once the best plan is as loud at the end as any of a node, it is the step before that
// has to be bounded. The relaxed ends as loud have few pairs of driver and amplifier. Those
// are listed, and for each the cheapest end is found, with its kit and with any other
// one. What a build of the node has bought that is not of the pair is lost, and has
// to be paid for with what that end leaves; so is a source, unless the end has money for
// it in a shop where sources cost nothing (trim). Builds that no pair allows are left out,
// since they end below the best plan.
//
// Nodes are parted where the relaxed end says, or for the order first the best build of the
// step: what that uses is bought now, or not (fork). A node whose relaxed end pays for what
// was settled and loses no more than before has the bounds of its parent.
//
// A node's worth is the level of the best build of its step that was not yet gone on
// with, the bounds of the later steps, and a lower bound on the money: if all levels are
// those of the best plan so far, the end costs no less than the cheapest relaxed one of
// its level. Nodes are opened best first (explore.go), until none has a worth that
// comes before the best plan. Each opening goes on with up to two builds exactly: the
// later steps are searched for in the same way, with what those builds leave. Each
// build is gone on with once, and the set of those left gets smaller with each, so the
// search ends.
//
// # Limits
//
// With two steps dozens of searches are usual, with three the middle one is bounded by the
// money alone; where it hardly matters what is bought first it takes a limit of time, and
// the answer says how much louder another plan could be. The orders are bounded as well
// as their first key is: the order fair has a bound on what is thrown away only from the
// best plan, and is the slowest. Where a build may want an amplifier for the front beside
// that for the bass (for music, with new speakers, with a source that has no power of its
// own), an amplifier bought first may play there later, so nothing is known of which is
// kept, and a plan of a thousand parts takes minutes. The ends with such a source could be
// bounded apart from the others. Not modelled: a price list for each step; a box of which
// one hole is closed for now; labour that is saved because a part stays where
// it is; a part bought ahead of its use, such as a thicker kit than the step needs for itself
// unless the step is no quieter and no dearer for it than the order allows.
package growth
