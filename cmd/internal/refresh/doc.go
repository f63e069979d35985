// Package refresh answers a chain's whole shelf: every brief for every car in every
// shop, on as many workers as there are, and nothing twice.
//
//	plan, report := plan.Load("chain.yaml")
//	...
//	r, err := refresh.Open(plan)
//	if err != nil {
//		return err
//	}
//	defer r.Close()
//	sum, err := r.Run(ctx, refresh.Options{Workers: 4})
//
// A program that asks questions of its own finds in loudfor/cmd/library what the
// workers ask.
//
// # What depends on what
//
// A job is a shop, a car, a brief, a cap, a goal, a place and openings. Its key is the
// hash of all that its answer depends on: the bytes of the files and of this program.
// Answers are kept under their keys in a database beside the results (store.go), so a
// job whose inputs are what they were is not computed, and two shops with the same shelf
// are one. Where only the catalogue differs from the last time, or from the chain's
// centre, optimizer.Foremost answers most jobs without a search (answer.go).
//
// # Who does what
//
// Jobs of one shop and one car are a group, and a group is a message of a queue: NATS
// JetStream, inside this process, without a port and with its files beside the answers,
// or a server by its address (queue.go). A worker takes a group, publishes each answer,
// and acknowledges the group when all are stored (worker.go). A group that is not
// acknowledged is delivered again, to whoever asks, and what of it is stored already is
// left alone. The process that was given the plan moves answers from the queue into the
// database (run.go); it alone knows what is missing, so that whatever the queue has lost
// or repeats makes no difference to the results.
//
// Limits: an answer is the best build alone, without alternatives; a worker has to be
// the same program as the one that was given the plan, bit for bit, or results could
// depend on who computed them.
package refresh
