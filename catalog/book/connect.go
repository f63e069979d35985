package book

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"
	"time"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// mostConnections lets reads run beside a write; SQLite allows one writer.
const mostConnections = 4

// connect opens the file with the settings that the promises of the package
// rest on.
func connect(path string, o Options) (*sql.DB, error) {
	mode := "rw"
	switch {
	case o.ReadOnly && frozen(path):
		// Nobody can write there, and SQLite could not make the file with
		// which readers and writers agree.
		mode = "ro&immutable=1"
	case o.ReadOnly:
		mode = "ro"
	}
	return open(path, mode, o.Wait,
		"journal_mode(wal)",   // a reader never waits for a writer, nor a writer for a reader
		"synchronous(full)",   // confirmed means on the disk
		"foreign_keys(on)",    // no quote without its job and its catalogue
		"trusted_schema(off)", // functions in a tampered file are not run
		"cell_size_check(on)", // damage is found before it spreads
		o.pragma)
}

// open opens a file in a mode of SQLite.
func open(path, mode string, wait time.Duration, pragmas ...string) (*sql.DB, error) {
	query := fmt.Sprintf("mode=%s&_txlock=immediate&_pragma=busy_timeout(%d)", mode, wait.Milliseconds())
	for _, p := range pragmas {
		if p != "" && !(strings.HasPrefix(mode, "ro") && strings.HasPrefix(p, "journal_mode")) {
			query += "&_pragma=" + p
		}
	}
	db, err := sql.Open("sqlite", address(path)+"?"+query)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(mostConnections)
	if err := db.PingContext(context.Background()); err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

// address is the file as a URI, in which a question mark is part of its name.
func address(path string) string {
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") { // C:/...
		slashed = "/" + slashed
	}
	return (&url.URL{Scheme: "file", Path: slashed}).String()
}
