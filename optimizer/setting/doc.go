// Package setting resolves one car, one place of the meter and one brief: what
// the brief leaves out filled in, the air, what the cabin does to the sound, how
// far a reading is pushed, what the amplifiers are fed from, and the room for the
// boxes, with the rules of what fits where. All that is the same for every build
// of a question, whatever parts it is made of.
//
// A Relaxation sets rules aside that stand in no brief, for finding out what
// blocks a question without an answer.
package setting
