package optimizer

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	every "loudfor/optimizer/audit"
	"loudfor/optimizer/setting"
)

// The checkers in Python that audit --hand-over writes come to the same counts, of
// random problems with all rules and of large shelves.

const checkers = "../cmd/internal/handover"

// stranger has a claim checked by both; said is what check.py prints.
func stranger(t testing.TB, p Problem, car *task, claim *Build) (said string) {
	python := ""
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if python == "" && exec.Command(name, "-c", "import numpy").Run() == nil {
			python = name
		}
	}
	if python == "" {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Fatal("there is no python3 with numpy, and LOUDFOR_REQUIRE_TOOLS=1")
		}
		t.Skip("no python3 with numpy (Debian: python3-numpy)")
	}
	full, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	premises, err := json.Marshal(every.PremisesOf(every.Question{Problem: p, Room: full.Room, Claim: claim}))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	put := func(name string, text []byte) {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put("premises.json", premises)
	for _, name := range []string{"check.py", "cards.py"} {
		text, err := os.ReadFile(filepath.Join(checkers, name))
		if err != nil {
			t.Fatal(err)
		}
		put(name, text)
		cmd := exec.Command(python, "-B", filepath.Join(folder, name))
		cmd.Env = append(os.Environ(), "OMP_NUM_THREADS=1", "OPENBLAS_NUM_THREADS=1")
		out, err := cmd.Output() // the status says whether it is confirmed, and so does the text
		if said += string(out); name == "cards.py" && err != nil {
			t.Errorf("%v: %s", err, out)
		}
		if err != nil && cmd.ProcessState.ExitCode() != 1 {
			t.Fatalf("%s: %v", name, err)
		}
	}
	return said
}

// agreed compares the counts of an audit with those that a stranger prints: the steps
// that need no complete build.
func agreed(t testing.TB, got every.Report, said string) {
	for s := every.Money; s <= every.OneByOne; s++ {
		if line := fmt.Sprintf("  %-14s %d\n", strings.ReplaceAll(s.String(), " ", "_"), got.Settled[s]); !strings.Contains(said, line) {
			t.Errorf("%v: %d, but\n%s", s, got.Settled[s], said)
		}
	}
}

func TestAuditByStranger(t *testing.T) {
	if !long() {
		t.Skip("a Python is started for each case")
	}
	c := garage(t)
	confirmed, open := 0, 0
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, 6); seed++ {
		for kind, draw := range []func(uint64) (Problem, *task){c.small, c.fronts, c.mixed} {
			p, car := draw(seed)
			p.Top, p.Known = 1, nil
			r, err := pickIn(context.Background(), p, car)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Builds) == 0 {
				continue
			}
			said := stranger(t, p, car, &r.Builds[0])
			agreed(t, auditOf(t, p, car, &r.Builds[0]), said)
			plain := len(p.Catalogue.Deals) == 0 && len(p.Catalogue.Shops) == 0 && p.Brief.MostStores == 0 && len(p.Brief.Must) == 0
			switch {
			case strings.HasPrefix(said, "confirmed: "):
				confirmed++
			case strings.HasPrefix(said, "not settled: ") && !plain:
				open++
			default:
				t.Errorf("LOUDFOR_ORACLE_SEED=%d, %d: %s", seed, kind, said)
			}
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d confirmed, %d left open for their prices", confirmed, open)
	if confirmed < 4 {
		t.Error("hardly any was confirmed")
	}
}

func BenchmarkAuditByStranger(b *testing.B) {
	eachShop(b, []shop{{1000, 800}, {10000, 800}}, func(b *testing.B, p Problem, car *task) {
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			b.Fatal(err)
		}
		got := auditOf(b, p, car, &r.Builds[0])
		for b.Loop() {
			said := stranger(b, p, car, &r.Builds[0])
			agreed(b, got, said)
			if !strings.HasPrefix(said, "confirmed: ") {
				b.Error(said)
			}
		}
	})
}
