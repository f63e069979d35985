// Command loudfor answers one question: how loud can this car get for this
// money, and why?
//
//	loudfor pick                     the loudest builds of the built-in demo
//	loudfor pick brief.yaml --catalog parts/
//	loudfor predict build.yaml --catalog parts/ --curve curve.csv
//	loudfor check --catalog parts/
//
// It exits with 0 when the answer was given, 1 when an input is bad, 2 when
// the command line is, and 3 when no build satisfies the brief.
package main

import (
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
)

// garbage is how much of it may pile up for each hundred bytes in use before it
// is collected. A command runs for less than a second and keeps most of what it
// reads, so that collecting it costs more than it frees.
const garbage = 400

// thrifty lets so much pile up; the environment's GOGC has the last word.
func thrifty(percent int) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(percent)
	}
}

func main() {
	thrifty(garbage)
	// A reader that has gone is told like a full disk, with a word and a status,
	// and not by a signal that ends the program in the middle of its work.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGPIPE)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
