package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/cmd/internal/solver"
)

// needSolvers skips where no solver is installed, and fails where one is
// missing and all are required.
func needSolvers(t *testing.T) {
	t.Helper()
	for _, s := range solver.Missing() {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Fatalf("%s is not installed, and LOUDFOR_REQUIRE_TOOLS=1", s.Name)
		}
	}
	if len(solver.Installed()) == 0 {
		t.Skip("no solver is installed: lp_solve, glpsol or cbc")
	}
}

// The answers for all built-in briefs are confirmed, in words and as JSON.
func TestAuditOfTheDemo(t *testing.T) {
	needSolvers(t)
	for _, brief := range []string{"250-reading", "800-music", "1500-one-shop", "500-no-room"} {
		if text := must(t, "audit", "demo:"+brief); !strings.Contains(text, "Confirmed: ") {
			t.Errorf("%s:\n%s", brief, text)
		}
	}
	doc := decode(t, must(t, "audit", "--json"))
	sameKeys(t, "audit", doc, "schema", "currency", "cap", "goal", "vehicle", "demo", "outcome", "level_db", "cost", "unknowns", "rows", "solvers", "agree")
	if doc["agree"] != true {
		t.Errorf("agree is %v", doc["agree"])
	}
	asked := doc["solvers"].([]any)
	if len(asked) != len(solver.Installed()) {
		t.Errorf("%d solvers", len(asked))
	}
	for _, s := range asked {
		sameKeys(t, "solver", s, "name", "version", "status", "level_db", "cost", "parts", "agree")
		if found := s.(map[string]any); found["cost"] != doc["cost"] || found["level_db"] != doc["level_db"] {
			t.Errorf("%v found %v dB for %v", found["name"], found["level_db"], found["cost"])
		}
	}
}

// A solver that finds something else makes the command fail, and is shown.
func TestAuditDisagrees(t *testing.T) {
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("no /bin/sh to stand in for a solver")
	}
	folder := t.TempDir()
	liar := "#!/bin/sh\necho 'This problem is infeasible'\n"
	if err := os.WriteFile(filepath.Join(folder, "lp_solve"), []byte(liar), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", folder)
	got := call("audit")
	if got.status != statusBadInput || !strings.Contains(got.stdout, "NOT CONFIRMED") || !strings.Contains(got.stdout, "differs") ||
		!strings.Contains(got.stderr, "lp_solve does not confirm the search's answer") || !strings.Contains(got.stderr, "not installed, not asked: glpsol, cbc") {
		t.Errorf("status %d\n%s\n%s", got.status, got.stdout, got.stderr)
	}
}

// Without any solver the command says so, how to get one, and that the program
// can be written all the same.
func TestAuditWithoutSolvers(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("PATH", folder)
	const want = "no solver is installed: install one of lp_solve, glpsol, cbc (Debian: lp-solve, glpk-utils, coinor-cbc), or write the program with --lp"
	if got := call("audit"); got.status != statusBadInput || !strings.Contains(got.stderr, want) {
		t.Errorf("status %d: %s", got.status, got.stderr)
	}
	if got := call("audit", "--lp", filepath.Join(folder, "x.lp")); got.status != statusDone || got.stderr != "" {
		t.Errorf("status %d: %s", got.status, got.stderr)
	}
}
