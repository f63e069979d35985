package layout

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// TestProject holds the project itself to the rules.
func TestProject(t *testing.T) {
	root := moduleRoot(t)
	found, err := breaches(os.DirFS(root))
	if err != nil {
		t.Fatal(err)
	}
	for _, breach := range found {
		t.Error(breach)
	}
}

// TestEveryLayerIsRead guards against a walk that silently sees nothing: the
// project's own rule book would then always be kept.
func TestEveryLayerIsRead(t *testing.T) {
	root := moduleRoot(t)
	for _, layer := range layers {
		folder := os.DirFS(filepath.Join(root, layer))
		// Seen from inside one layer nothing is where it belongs, so each
		// file must be complained of.
		found, err := breaches(folder)
		if err != nil {
			t.Fatal(err)
		}
		if len(found) == 0 {
			t.Errorf("no Go file was read in %s", layer)
		}
	}
}

// TestRules breaks each rule once and expects the one complaint.
func TestRules(t *testing.T) {
	tests := []struct {
		name string
		file string
		text string
		want string // "" when the file keeps the rules
	}{
		{"down one layer", "catalog/a.go", `package catalog; import _ "loudfor/model/air"`, ""},
		{"down three layers", "cmd/loudfor/a.go", `package main; import _ "loudfor/model/air"`, ""},
		{"inside a layer", "model/bass/a.go", `package bass; import _ "loudfor/model/driver"`, ""},
		{"up from model", "model/bass/a.go", `package bass; import _ "loudfor/catalog"`,
			"model/bass/a.go:1: model imports loudfor/catalog: imports point one way, cmd -> optimizer -> catalog -> model"},
		{"up from model in a test", "model/bass/a_test.go", `package bass; import _ "loudfor/catalog"`,
			"model/bass/a_test.go:1: model imports loudfor/catalog: imports point one way, cmd -> optimizer -> catalog -> model"},
		{"up from catalog", "catalog/a.go", `package catalog; import _ "loudfor/optimizer"`,
			"catalog/a.go:1: catalog imports loudfor/optimizer: imports point one way, cmd -> optimizer -> catalog -> model"},
		{"up from optimizer", "optimizer/a.go", "package optimizer\n\nimport _ \"loudfor/cmd/internal/table\"",
			"optimizer/a.go:3: optimizer imports loudfor/cmd/internal/table: imports point one way, cmd -> optimizer -> catalog -> model"},
		{"a layer nobody knows", "cmd/a.go", `package cmd; import _ "loudfor/tools"`,
			"cmd/a.go:1: imports loudfor/tools, which is in no layer"},
		{"the recheck on the types", "optimizer/verify/a.go", `package verify; import _ "loudfor/optimizer/build"`, ""},
		{"the recheck on the search", "optimizer/verify/a.go", `package verify; import _ "loudfor/optimizer"`,
			"optimizer/verify/a.go:1: optimizer/verify may not import loudfor/optimizer: of the optimizer it may know optimizer/build"},
		{"types on the recheck", "optimizer/build/a.go", `package build; import _ "loudfor/optimizer/verify"`,
			"optimizer/build/a.go:1: optimizer/build may not import loudfor/optimizer/verify: of the optimizer it may know optimizer/memo"},
		{"the program on completions", "optimizer/program/a.go", `package program; import _ "loudfor/optimizer/completion"`, ""},
		{"the program on the search", "optimizer/program/a.go", `package program; import _ "loudfor/optimizer"`,
			"optimizer/program/a.go:1: optimizer/program may not import loudfor/optimizer: of the optimizer it may know " +
				"optimizer/build, optimizer/pricing, optimizer/setting, optimizer/drive, optimizer/completion, optimizer/linear"},
		{"the page on everything", "optimizer/a.go", `package optimizer; import _ "loudfor/optimizer/verify"`, ""},
		{"memory on anything", "optimizer/memo/a.go", `package memo; import _ "loudfor/optimizer/build"`,
			"optimizer/memo/a.go:1: optimizer/memo may not import loudfor/optimizer/build: of the optimizer it may know nothing"},
		{"what is for tests", "optimizer/a.go", `package optimizer; import _ "loudfor/optimizer/testing/generate"`,
			"optimizer/a.go:1: loudfor/optimizer/testing/generate is for tests, and no test imports it here"},
		{"what is for tests, in a test", "optimizer/a_test.go", `package optimizer; import _ "loudfor/optimizer/testing/generate"`, ""},
		{"what is for tests, beside it", "optimizer/testing/a/a.go", `package a; import _ "loudfor/optimizer/testing/generate"`, ""},
		{"another module with a like name", "model/a.go", `package model; import _ "loudforever/catalog"`, ""},
		{"top-level folder", "tools/notes.txt", "anything",
			"tools: unknown top-level folder (known: model, catalog, optimizer, cmd, testdata)"},
		{"tools' own folder", ".ci/notes.txt", "anything", ""},
		{"fixtures are not code", "testdata/a.go", "not Go at all", ""},
		{"code at the root", "a.go", "package loudfor",
			"a.go:1: Go code outside model, catalog, optimizer, cmd"},

		{"files in model", "model/a.go", `package model; import _ "os"`, "model/a.go:1: model is pure and may not import os"},
		{"files in a model test", "model/a_test.go", `package model; import _ "os"`, ""},
		{"files in catalog", "catalog/a.go", `package catalog; import _ "os"`, ""},
		{"streams in optimizer", "optimizer/a.go", `package optimizer; import _ "io"`,
			"optimizer/a.go:1: optimizer is pure and may not import io"},
		{"below a forbidden package", "model/a.go", `package model; import _ "net/http"`,
			"model/a.go:1: model is pure and may not import net/http"},
		{"like a forbidden package", "model/a.go", `package model; import _ "iter"`, ""},
		{"printing", "model/a.go", `package model; import "fmt"; var _, _ = fmt.Println()`,
			"model/a.go:1: model is pure and may not use fmt.Println"},
		{"text without printing", "model/a.go", `package model; import "fmt"; var _ = fmt.Sprintf("x")`, ""},
		{"printing under another name", "model/a.go", `package model; import f "fmt"; var _, _ = f.Print()`,
			"model/a.go:1: model is pure and may not use fmt.Print"},
		{"printing without a name", "model/a.go", `package model; import . "fmt"; var _, _ = Print()`,
			"model/a.go:1: model may not import fmt with a dot: its calls could not be checked"},
		{"the clock", "optimizer/a.go", `package optimizer; import "time"; var _ = time.Now()`,
			"optimizer/a.go:1: optimizer is pure and may not use time.Now"},
		{"a duration", "model/a.go", `package model; import "time"; var _ = time.Second`, ""},
		{"chance without a seed", "model/a.go", `package model; import "math/rand/v2"; var _ = rand.IntN(6)`,
			"model/a.go:1: model is pure and may not use math/rand/v2.IntN"},
		{"chance with a seed", "model/a.go", `package model; import "math/rand/v2"; var _ = rand.New(rand.NewPCG(1, 2))`, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			found, err := breaches(fstest.MapFS{test.file: {Data: []byte(test.text)}})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, strings.Join(found, "\n")); diff != "" {
				t.Errorf("complaints (-want +got):\n%s", diff)
			}
		})
	}
}

// TestInsideExists keeps the table of the optimizer's inside in step with its
// folders: a package that has moved would no longer be held to anything.
func TestInsideExists(t *testing.T) {
	root := moduleRoot(t)
	for folder, may := range inside {
		for _, p := range append(may, folder) {
			if _, err := os.Stat(filepath.Join(root, p)); err != nil {
				t.Errorf("%s in the table of imports: %v", p, err)
			}
		}
	}
}

// TestUnreadableFile makes sure that a file which does not parse is an error
// and is not taken for one that keeps the rules.
func TestUnreadableFile(t *testing.T) {
	if _, err := breaches(fstest.MapFS{"model/a.go": {Data: []byte("package")}}); err == nil {
		t.Error("a file that does not parse went through")
	}
}

// moduleRoot is the folder with go.mod, upwards from this package.
func moduleRoot(t *testing.T) string {
	t.Helper()
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder
		}
		parent := filepath.Dir(folder)
		if parent == folder {
			t.Fatal("no go.mod above the test")
		}
		folder = parent
	}
}
