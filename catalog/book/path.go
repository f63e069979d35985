package book

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
)

// DefaultPath is where the book of this user lies if none is named:
// loudfor/book.db in $XDG_DATA_HOME or ~/.local/share (XDG Base Directory
// Specification), and in the folder of settings on Windows and macOS.
func DefaultPath() (string, error) {
	home, err := dataHome(runtime.GOOS, os.Getenv, os.UserHomeDir, os.UserConfigDir)
	if err != nil {
		return "", errors.New("the folder for the user's data is not known: name the job book with --book FILE")
	}
	return filepath.Join(home, "loudfor", "book.db"), nil
}

func dataHome(system string, env func(string) string, home, settings func() (string, error)) (string, error) {
	switch system {
	case "windows", "darwin", "ios", "plan9":
		return settings()
	}
	// A path that is not absolute is to be ignored, says the specification.
	if dir := env("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return dir, nil
	}
	dir, err := home()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, ".local", "share"), nil
}
