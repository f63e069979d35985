package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// asProgram, set in the environment, makes a test's executable the program.
const asProgram = "LOUDFOR_TEST_AS_PROGRAM"

// The program itself is a command of the scripts; a fault in it stays a panic.
func TestMain(m *testing.M) {
	// Books are written on one day, and nobody waits long for a locked one.
	clock = func() time.Time { return time.Date(2025, time.March, 9, 12, 0, 0, 0, time.UTC) }
	bookWait = 50 * time.Millisecond
	if os.Getenv("COLUMNS") == "" {
		os.Setenv("COLUMNS", "100") // whatever terminal the tests are run in
	}
	if os.Getenv(asProgram) != "" {
		main() // does not return
	}
	guard = false
	testscript.Main(m, map[string]func(){"loudfor": main})
}

// Whole commands: each file under testdata/script holds inputs, commands and
// what they print. UPDATE=1 go test ./cmd/loudfor writes new outputs, whose
// difference has to be read before it is committed.
func TestScripts(t *testing.T) {
	folder, err := filepath.Abs("testdata/script") // the program changes folders
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 folder,
		UpdateScripts:       os.Getenv("UPDATE") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("NO_COLOR", "1")
			e.Setenv("COLUMNS", "100") // a script may narrow it
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"narrow": narrow,
			"status": status,
			"sparse": sparse,
			"poke":   poke,
			"hold":   hold,
		},
	})
}
