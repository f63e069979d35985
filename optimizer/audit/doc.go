// Package audit looks at every block of a question and says whether a build that is
// claimed to be the best is: a second, simple program beside the search. It knows
// the catalogue, the model, the types of package build and the written-out rules of
// package verify, and nothing of the search.
//
//	r := audit.Check(ctx, audit.Question{Problem: problem, Room: room, Claim: &result.Builds[0]})
//	fmt.Println(r.Verdict) // confirmed, refuted (r.Better, r.Fault) or not settled (r.Left)
//
// A block is a driver, so many times, in so many of one box. All that fit are
// counted, and each is settled by one Step.
//
// # The theorem
//
// Let a block have the level L at the frequency f when its cones travel u. To be
// louder than L at f it has to pass u, and at u all of this has to be allowed: the
// travel itself, the heat of the coil, the flow through the port, the coil's current,
// and the voltage that drives it, from the supply that is left when the power is
// drawn. None of these asks which amplifier it is: only the last two compare it with
// something. So a block that is not allowed u at any f is no louder than L.
//
// Proof. The sound at the meter rises strictly with the travel (package enclosure:
// flow and output rise strictly with the cone's velocity), so u is unique, and every
// louder travel is beyond it. Turning the gain up from nothing, the cone goes
// through all travels below the one where it stops, and it stops at the first that
// is not allowed; so it never gets beyond u.
//
// A source that is weaker in every respect allows no more. For one coil a source is an
// open voltage E behind a resistance R, with a greatest current I and an efficiency.
// It drives a voltage U and a current J if |J| <= I and |U + R J| <= s E, where s is
// what the supply leaves of its voltage at the power drawn. The coil takes power,
// Re(U J*) >= 0, so |U + R J| falls with R; s rises with the efficiency, and with the
// conductor of the kit. So what the source with the best of each of these does not
// allow, none of them does (the envelope).
//
// A reading is the level at the loudest frequency. Music is a mean over bands, no more
// than that of the loudest: so a block is asked as for a reading, at the bands, and what
// is allowed in one band then has the mean itself predicted with the envelope.
//
// What a sum of money buys is bounded by least prices: no piece is paid less for than
// its price in the cheapest shop or its share of the best deal, and what is taxed at
// one rate or worked on adds up.
//
// # The steps
//
//   - Money: driver, boxes, and the cheapest source, pair, amplifier and kit are
//     above the cap; or a part that must be in is not.
//   - Unwired: no amplifier may drive these coils in any wiring.
//   - Itself: at every frequency travel, heat or port forbid u.
//   - Envelope: so does, at all that are left, the envelope of every wiring of every
//     amplifier that the money left over buys, on the best conductor.
//   - OneByOne: so does each wiring by itself, with each kit that carries it; or the
//     model predicts less.
//   - Outranked, Better: the block is as loud with some of them, and every source,
//     pair, amplifier of its own, blocker and converter that the money left over buys
//     is tried beside it. The price is exact now: every deal any number of times, in
//     every set of shops. A build that comes before the claim refutes it.
//
// The claim has to be met among these builds, at its level and its price.
//
// # What it shares with the search
//
// Nothing of how the search prunes, orders, prices or completes. The laws of the model,
// however: circuit of the box with the flow that a net output takes (package
// enclosure), motor and heat (driver), ways to wire (hookup), ratings (amplifier),
// supply and front. Package bass, which searches for the greatest travel, is asked only
// where the rest leaves something: of single wirings, and for the mean of music. The
// price of a list with deals is that of package verify, by which the search's answer is
// rechecked as well. A fault in these would be in both; the checker that is handed over
// has box, coil, port, supply and wirings of its own.
//
// # What is taken on trust
//
//   - The completion of cards: what nobody states of a driver or a box is filled in as
//     for the search (package driver), and so are ratings cut to what a fuse carries.
//   - That ratings and cards are honest, and prices and stock right.
//   - The car: its response is taken over.
//   - The laws of the model: circuit of the box, motor, heat, supply.
//   - Of boxes to be built, those of the stated grid: they are parts like others.
//
// # Limits
//
// A block is asked to be quieter than the claim by 0.01 dB (slack), since the model's
// own search for the greatest travel ends within a thousandth of it. Where a limit
// bites at a travel and lets go again within one step of that search's lattice, the
// model may step over it; the theorem does not, and is right.
package audit
