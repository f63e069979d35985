package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// largeCatalogue writes parts enough for a search that can be stopped halfway:
// every driver goes into every box, and every amplifier drives it.
func largeCatalogue(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("parts:\n")
	for i := range 400 {
		fmt.Fprintf(&b, "  - {sku: D%03d, kind: subwoofer, price: %d.%02d USD, size: 12 in, coils: 2 x 4 ohm, rms: %d W, fs: %d Hz, qts: 0.%d, vas: %d L, xmax: %d.%d mm}\n",
			i, 40+3*i, i*37%100, 200+9*i, 25+i%11, 35+i%23, 40+i%37, 8+i/40, i%10)
		fmt.Fprintf(&b, "  - {sku: B%03d, kind: enclosure, price: %d.%02d USD, type: vented, holes: 1 x 12 in, volume: %d L, tuning: %d Hz}\n",
			i, 40+i, i*53%100, 40+i%67, 28+i%17)
		fmt.Fprintf(&b, "  - {sku: A%03d, kind: amplifier, price: %d.%02d USD, channels: 2, class: D, speaker_input: true, ratings: [{mode: bridged, load: 4 ohm, watts: %d, basis: measured}]}\n",
			i, 60+4*i, i*71%100, 100+11*i)
		if i < 8 {
			fmt.Fprintf(&b, "  - {sku: K%03d, kind: wiring kit, price: %d.00 USD, gauge: %d mm2, material: copper, length: 5.5 m}\n", i, 20+9*i, 10+8*i)
		}
	}
	b.WriteString("  - {sku: HU, kind: source, price: 90 USD, pre_outs: 1, power: 4 x 17 W, load: 4 ohm}\n")
	name := filepath.Join(t.TempDir(), "large.yaml")
	if err := os.WriteFile(name, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// stoppedEarly tries longer and longer until a search is stopped with something
// found: how long that takes depends on the machine, and on what else it has to do
// at the moment. So a search that was over is tried again with half the time. The
// steps are small against the time of a whole search.
func stoppedEarly(t *testing.T, stop string, attempt func(after time.Duration) (status int, stdout, stderr string)) {
	t.Helper()
	after := 10 * time.Millisecond
	for range 500 {
		status, stdout, stderr := attempt(after)
		doc := decode(t, stdout)
		switch doc["outcome"] {
		case "unknown", nil: // nil: its files were not even read
			if status != statusBadInput || !strings.Contains(stderr, stop) && !strings.Contains(stderr, errInterrupted.Error()) {
				t.Fatalf("status %d, %s", status, stderr)
			}
			after = after * 8 / 7 // stopped too early to have found anything
			continue
		case "optimal":
			after /= 2 // over before it was stopped
			continue
		}
		if doc["outcome"] != "feasible" || doc["stop"] != stop || status != statusDone || stderr != "" {
			t.Fatalf("outcome %v, stop %v, status %d, %s", doc["outcome"], doc["stop"], status, stderr)
		}
		proof := doc["proof"].(map[string]any)
		sum := number(t, proof["evaluated"])
		for _, count := range proof["dropped"].(map[string]any) {
			sum += number(t, count)
		}
		if total := number(t, proof["combinations"]); sum != total || number(t, proof["dropped"].(map[string]any)["not_reached"]) == 0 {
			t.Errorf("evaluated and dropped are %g, combinations %g", sum, total)
		}
		if gap := number(t, proof["gap_db"]); gap < 0 || gap > 100 {
			t.Errorf("a gap of %g dB", gap)
		}
		return
	}
	t.Fatal("never stopped with something found")
}

func TestTimeLimit(t *testing.T) {
	large := largeCatalogue(t)
	for _, command := range []string{"pick", "ladder"} {
		t.Run(command, func(t *testing.T) {
			stoppedEarly(t, "time limit", func(after time.Duration) (int, string, string) {
				got := call(command, "--json", "--catalog", large, "--cap", "3000", "--vehicle", "sedan", "--time-limit", after.String())
				return got.status, got.stdout, got.stderr
			})
		})
	}
}

// An interrupt is sent to the program itself, run by the test as a process.
func TestInterrupt(t *testing.T) {
	large := largeCatalogue(t)
	for _, command := range []string{"pick", "ladder"} {
		t.Run(command, func(t *testing.T) {
			stoppedEarly(t, "cancelled", func(after time.Duration) (int, string, string) {
				cmd := exec.Command(os.Args[0], command, "--json", "--catalog", large, "--cap", "3000", "--vehicle", "sedan")
				cmd.Env = append(os.Environ(), asProgram+"=1")
				var stdout, stderr bytes.Buffer
				cmd.Stdout, cmd.Stderr = &stdout, &stderr
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(after)
				// It may be over; then its answer says so.
				if err := cmd.Process.Signal(os.Interrupt); err != nil && !errors.Is(err, os.ErrProcessDone) {
					t.Fatal(err)
				}
				err := cmd.Wait()
				var exit *exec.ExitError
				if err != nil && !errors.As(err, &exit) {
					t.Fatal(err)
				}
				if cmd.ProcessState.ExitCode() < 0 {
					// The signal came before the program was ready for it.
					return statusBadInput, `{"outcome": "unknown"}`, "cancelled"
				}
				return cmd.ProcessState.ExitCode(), stdout.String(), stderr.String()
			})
		})
	}
}
