package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loudfor/cmd/internal/inputs"
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

// The answers for all built-in briefs are confirmed by a look at every block, which
// accounts for each, in words and as JSON.
func TestAuditOfTheDemo(t *testing.T) {
	for _, brief := range strings.Split(inputs.DemoNames(inputs.DemoBriefs), ", ") {
		if text := must(t, "audit", "demo:"+brief); !strings.Contains(text, "Confirmed: ") || !strings.Contains(text, "Taken on trust") {
			t.Errorf("%s:\n%s", brief, text)
		}
	}
	doc := decode(t, must(t, "audit", "--json"))
	sameKeys(t, "audit", doc, "schema", "currency", "cap", "goal", "vehicle", "demo", "outcome", "level_db", "cost", "parts",
		"verdict", "blocks", "settled", "as_loud", "trusted")
	sameKeys(t, "settled", doc["settled"], "over_the_cap", "no_wiring", "itself", "envelope", "one_by_one", "as_loud", "better", "not_settled")
	sum := 0
	for _, n := range doc["settled"].(map[string]any) {
		k, err := strconv.Atoi(fmt.Sprint(n))
		if err != nil {
			t.Fatal(err)
		}
		sum += k
	}
	if doc["verdict"] != "confirmed" || fmt.Sprint(sum) != fmt.Sprint(doc["blocks"]) || sum < 100 {
		t.Errorf("%v of %v blocks: %v", sum, doc["blocks"], doc["verdict"])
	}
}

// The best of each driver: the first of the table is the answer itself.
func TestAuditOfEachDriver(t *testing.T) {
	doc := decode(t, must(t, "audit", "--each-driver", "--json"))
	best, found := map[string]any{}, 0
	for _, d := range doc["drivers"].([]any) {
		if d := d.(map[string]any); d["level_db"] != nil {
			sameKeys(t, "driver", d, "sku", "level_db", "cost", "parts")
			if found++; d["level_db"] == doc["level_db"] {
				best = d
			}
		}
	}
	if found < 10 || fmt.Sprint(best["parts"]) != fmt.Sprint(doc["parts"]) || best["cost"] != doc["cost"] {
		t.Errorf("%d drivers; %v, of the answer %v", found, best, doc["parts"])
	}
	if text := must(t, "audit", "--each-driver"); !strings.Contains(text, "TM-12V    128.332 dB  249.94 USD  KE-V12") {
		t.Error(text)
	}
	if text := must(t, "audit", "demo:800-music", "--each-driver"); !strings.Contains(text, "KE-12X    115.390 dB  790.66 USD  KE-V12") {
		t.Error(text)
	}
	if got := call("audit", "--each-driver", "--lp", "-"); got.status != statusUsage || got.stdout != "" {
		t.Errorf("status %d\n%s", got.status, got.stdout)
	}
}

// What a time limit leaves open is not settled: the answer is there all the same, and
// the status says that it is not confirmed.
func TestAuditOutOfTime(t *testing.T) {
	got := call("audit", "--time-limit", "1ns", "--json")
	doc := decode(t, got.stdout)
	if got.status != statusBadInput || doc["verdict"] != "not settled" || doc["left"] == nil || !strings.Contains(got.stderr, "not confirmed: not settled") {
		t.Errorf("status %d, %s\n%s", got.status, got.stderr, got.stdout)
	}
}

// Outside solvers come to the same.
func TestAuditBySolvers(t *testing.T) {
	needSolvers(t)
	for _, brief := range []string{"250-reading", "800-music", "1500-one-shop", "500-no-room"} {
		if text := must(t, "audit", "--solver", "demo:"+brief); strings.Count(text, "Confirmed: ") != 2 {
			t.Errorf("%s:\n%s", brief, text)
		}
	}
	doc := decode(t, must(t, "audit", "--solver", "--json"))
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
	got := call("audit", "--solver")
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
	if got := call("audit", "--solver"); got.status != statusBadInput || !strings.Contains(got.stderr, want) {
		t.Errorf("status %d: %s", got.status, got.stderr)
	}
	if got := call("audit", "--lp", filepath.Join(folder, "x.lp")); got.status != statusDone || got.stderr != "" {
		t.Errorf("status %d: %s", got.status, got.stderr)
	}
}
