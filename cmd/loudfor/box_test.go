package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The lines that box prints make a build file that predicts the very same: the
// box is described in full, to the bit.
func TestBuiltBoxComesBack(t *testing.T) {
	if testing.Short() {
		t.Skip("three searches")
	}
	brief, err := os.ReadFile("../../catalog/demo/briefs/350-built.yaml")
	if err != nil {
		t.Fatal(err)
	}
	page := call("box", "demo:350-built")
	_, lines, found := strings.Cut(page.stdout, "beside the keys of the brief:\n")
	if page.status != statusDone || !found {
		t.Fatalf("exit %d\n%s%s", page.status, page.stdout, page.stderr)
	}
	lines, _, _ = strings.Cut(lines, "\n\n")
	file := filepath.Join(t.TempDir(), "build.yaml")
	text := string(brief) + strings.ReplaceAll("\n"+lines, "\n  ", "\n") + "\n"
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	searched := decode(t, call("box", "demo:350-built", "--json").stdout)["build"].(map[string]any)
	given := call("predict", file, "--json")
	if given.status != statusDone {
		t.Fatalf("exit %d\n%s\n%s", given.status, given.stderr, text)
	}
	again := decode(t, given.stdout)
	for _, key := range []string{"cost", "load_ohm"} {
		if number(t, searched[key]) != number(t, again[key]) {
			t.Errorf("%s: %v, then %v", key, searched[key], again[key])
		}
	}
	was, is := searched["reading"].(map[string]any), again["reading"].(map[string]any)
	if number(t, was["db"]) != number(t, is["db"]) || number(t, was["hz"]) != number(t, is["hz"]) {
		t.Errorf("the reading was %v and is %v", was, is)
	}
	if twice := call("box", file, "--json"); twice.status != statusDone || twice.stdout == "" {
		t.Errorf("exit %d\n%s", twice.status, twice.stderr)
	}
}
