package main

import (
	"os"
	"strings"
	"testing"

	"loudfor/catalog/letterhead"
)

func TestWhatOthersCanReach(t *testing.T) {
	for addr, want := range map[string]bool{
		"127.0.0.1:7250": false, "127.1.2.3:80": false, "[::1]:7250": false, "localhost:0": false, "[::ffff:127.0.0.1]:80": false,
		"0.0.0.0:7250": true, ":7250": true, "[::]:7250": true, "192.0.2.7:80": true, "counter.shop:80": true,
	} {
		if got, err := beyondThisMachine(addr); got != want || err != nil {
			t.Errorf("%s: %t, %v", addr, got, err)
		}
	}
	for _, addr := range []string{"", "7250", "127.0.0.1", "127.0.0.1:port", "127.0.0.1:99999"} {
		if _, err := beyondThisMachine(addr); err == nil {
			t.Errorf("%q is taken for an address", addr)
		}
	}
}

func TestServeRefuses(t *testing.T) {
	t.Setenv(tokenVariable, "short")
	for _, tc := range []struct {
		args   string
		status int
		words  string
	}{
		{"serve --addr nowhere", statusUsage, "not an address with a port"},
		{"serve --addr 0.0.0.0:0", statusUsage, "at least 12 characters"},
		{"serve -", statusUsage, "cannot come from standard input"},
		{"serve --catalog /does/not/exist --cap 5", statusBadInput, "/does/not/exist"},
		{"serve demo:nobody", statusUsage, `the demo has no "nobody"`},
		{"serve a b", statusUsage, "one too many"},
	} {
		got := call(strings.Fields(tc.args)...)
		if got.status != tc.status || !strings.Contains(got.stderr, tc.words) {
			t.Errorf("%s: %d %q", tc.args, got.status, got.stderr)
		}
	}
}

// The shop's own settings are looked for under their usual name, which a list of
// parts may have already.
func TestUsualShop(t *testing.T) {
	t.Chdir(t.TempDir())
	for text, want := range map[string]string{"shop: Dock Street Sound\n": letterhead.Usual, "shpo: a slip\n": letterhead.Usual, "parts: []\n": "", "# ours\nparts:\n": ""} {
		if err := os.WriteFile(letterhead.Usual, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := usualShop(); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
	if err := os.Remove(letterhead.Usual); err != nil || usualShop() != "" {
		t.Errorf("a file that there is not: %v", err)
	}
}
