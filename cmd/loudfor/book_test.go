package main

import (
	"database/sql"
	"encoding/hex"
	"os"
	"strconv"

	"github.com/rogpeppe/go-internal/testscript"
)

// poke writes bytes, in hexadecimal, at a place of a file.
func poke(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: poke FILE OFFSET HEX")
	}
	at, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	bytes, err := hex.DecodeString(args[2])
	ts.Check(err)
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_RDWR, 0)
	ts.Check(err)
	_, err = f.WriteAt(bytes, at)
	ts.Check(err)
	ts.Check(f.Close())
}

// hold keeps a job book locked for writing, as another program would, until the
// script ends.
func hold(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hold BOOK")
	}
	db, err := sql.Open("sqlite", "file:"+ts.MkAbs(args[0])+"?_txlock=immediate")
	ts.Check(err)
	tx, err := db.Begin()
	ts.Check(err)
	ts.Defer(func() {
		ts.Check(tx.Rollback())
		ts.Check(db.Close())
	})
}
