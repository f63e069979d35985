package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/cmd/internal/record"
)

// What other programs read: whatever comes in, each command answers --json
// with one document that names its shape, or fails with one that says where.

// jsonCommands are commands that read standard input, with the shape they
// promise. The search is held to a tiny catalogue: the target is about words
// and documents, not about speed.
var jsonCommands = []struct {
	schema string
	args   []string
}{
	{record.CheckSchema, []string{"check", "--catalog", "-"}},
	{record.ImportSchema, []string{"import", "-", "--currency", "USD", "--dry-run"}},
	{record.PickSchema, []string{"pick", "-", "--catalog", "PARTS"}},
	{record.PredictSchema, []string{"predict", "-", "--catalog", "PARTS"}},
	{record.ImportSchema, []string{"import", "LIST", "--map", "-", "--dry-run"}},
}

// tinyShop has just what one build needs.
const tinyShop = `parts:
  - {sku: HU, kind: source, power: 4 x 15 W, load: 4 ohm}
  - {sku: AM, kind: amplifier, price: 60 USD, channels: 2, class: AB, fuse: 25 A, speaker_input: true, ratings: [{mode: bridged, load: 4 ohm, watts: 150}]}
  - {sku: SW, kind: subwoofer, price: 40 USD, size: 10 in, coils: 1 x 4 ohm, rms: 150 W, qts: 0.6, fs: 35 Hz, vas: 30 L, xmax: 6 mm}
  - {sku: BX, kind: enclosure, price: 30 USD, type: sealed, holes: 1 x 10 in, volume: 25 L}
  - {sku: KT, kind: wiring kit, price: 20 USD, gauge: 8 AWG, length: 5 m, fuse: 40 A}
`

// named reads one JSON document, and gives the name of its shape.
func named(r io.Reader) (schema string, err error) {
	d := json.NewDecoder(r)
	var head struct {
		Schema string `json:"schema"`
	}
	if err := d.Decode(&head); err != nil {
		return "", err
	}
	if rest, err := io.ReadAll(io.MultiReader(d.Buffered(), r)); err != nil || strings.TrimSpace(string(rest)) != "" {
		return head.Schema, io.ErrShortBuffer
	}
	return head.Schema, nil
}

func FuzzJSON(f *testing.F) {
	dir := f.TempDir()
	shop, list := filepath.Join(dir, "shop.yaml"), filepath.Join(dir, "list.csv")
	if os.WriteFile(shop, []byte(tinyShop), 0o600) != nil || os.WriteFile(list, []byte("No,F,price\nA,30,3 USD\n"), 0o600) != nil {
		f.Fatal("the files cannot be written")
	}
	f.Add(uint8(0), tinyShop)
	f.Add(uint8(0), "parts: [{sku: \"\\u2028\\x01<&>\", kind: horn}]")
	f.Add(uint8(1), "sku,kind,price,capacitance\nB-1,bass blocker,3.50,220 uF\n")
	f.Add(uint8(1), "sku\xff,\x00\n")
	f.Add(uint8(2), "{cap: 200 USD, vehicle: small sedan, owned: [HU], front: keep}")
	f.Add(uint8(2), "{cap: 1e300 USD, vehicle: open field, goal: music}")
	f.Add(uint8(3), "{vehicle: small sedan, owned: [HU], parts: [HU, AM, SW, BX, KT]}")
	f.Add(uint8(3), "{vehicle: \"\\\"\", parts: []}")
	f.Add(uint8(4), "kind: bass blocker\ncolumns: [{name: No, key: sku}, {name: F, key: capacitance, unit: uF}]")
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		command := jsonCommands[int(which)%len(jsonCommands)]
		args := append([]string{"--json"}, command.args...)
		for i, a := range args {
			args[i] = strings.NewReplacer("PARTS", shop, "LIST", list).Replace(a)
		}
		var out, errs bytes.Buffer
		status := run(args, strings.NewReader(text), &out, &errs)
		want := command.schema
		if status == statusBadInput || status == statusUsage {
			want = record.ErrorSchema
		}
		if schema, err := named(&out); err != nil || schema != want {
			t.Fatalf("%v ended with %d and a document %q (%v), not %q; it said %s", args, status, schema, err, want, errs.String())
		}
	})
}
