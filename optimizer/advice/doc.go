// Package advice answers what a customer asks when a build has been found: why
// this one, what more money buys, what each part is there for, what a favourite
// part would cost, and at which price the answer would be another.
//
//	desk, err := advice.Ask(ctx, optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: car})
//	if err != nil {
//		return err
//	}
//	talk, err := desk.Talk(ctx)
//	fmt.Println(talk.Limits.Binding, talk.Changes[0].Difference.DB)
//	verdict, err := desk.Part(ctx, "KE-M3")
//
// # Nothing is estimated
//
// Every answer is the result of a search of its own, as exact as that of
// package optimizer: a part is left out by forbidding it, swapped by searching
// among the cheaper ones of its kind, and asked for by optimizer.Problem.With.
// More money is a ladder that begins at the best level (optimizer.Series.From).
// What can be said about the car is computed once for all of them.
//
// # Break prices
//
// See price.go for what they are, how they are found, and the proof.
//
// # Limits
//
// One thing is changed at a time: the price of one part, one part left out.
// What two changes together would do is another question. A search that the
// context ends gives what was answered until then, and says so.
package advice
