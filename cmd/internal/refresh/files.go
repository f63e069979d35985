package refresh

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// A bundle is what a plan names, a file or a folder, with the names and bytes of the
// files in it that can count: hashed, and packed so that it can be read elsewhere.
// Names are relative, so that a shelf is the same wherever it lies.

// none is the hash of a bundle that is not there.
const none = ""

// members reads the files of a bundle: those in YAML, and the curves of cars that one of
// them names. Other tables may lie beside them, results among them. only is the name of
// a file that is a bundle by itself.
func members(root string) (files map[string][]byte, only string, err error) {
	info, err := os.Stat(root)
	if err != nil {
		return nil, "", err
	}
	folder := root
	if !info.IsDir() {
		folder, only = filepath.Dir(root), filepath.Base(root)
	}
	files = map[string][]byte{}
	var curves []string
	add := func(name string) error {
		content, problem := document.ReadBytes(os.DirFS(folder), name, document.MostBytes)
		if problem != nil {
			problem.Where.File = filepath.Join(folder, name)
			report := &catalog.Report{}
			report.Add(*problem)
			return report.Err()
		}
		files[name] = content
		return nil
	}
	err = fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error {
		hidden := name != "." && strings.HasPrefix(d.Name(), ".")
		switch ext := strings.ToLower(path.Ext(name)); {
		case err != nil:
			return err
		case d.IsDir() && (hidden || only != "" && name != "."):
			return fs.SkipDir
		case d.IsDir():
		case name == only || only == "" && !hidden && (ext == ".yaml" || ext == ".yml"):
			return add(name)
		case ext == ".csv" && !hidden:
			curves = append(curves, name)
		}
		return nil
	})
	for _, name := range curves {
		for _, content := range files {
			if err == nil && bytes.Contains(content, []byte(path.Base(name))) {
				err = add(name)
				break
			}
		}
	}
	return files, only, err
}

// bundleOf hashes a bundle, and packs it if a writer is given. The name of a file that
// is a bundle by itself says nothing of what is in it.
func bundleOf(root string, to io.Writer) (hash string, err error) {
	files, only, err := members(root)
	if err != nil {
		return none, err
	}
	h := sha256.New()
	packed := zip.NewWriter(io.Discard)
	if to != nil {
		packed = zip.NewWriter(to)
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		known := name
		if name == only {
			known = ""
		}
		fmt.Fprintf(h, "%d %s %d\n", len(known), known, len(files[name]))
		h.Write(files[name])
		if to == nil {
			continue
		}
		w, err := packed.Create(name)
		if err == nil {
			_, err = w.Write(files[name])
		}
		if err != nil {
			return none, err
		}
	}
	return hex.EncodeToString(h.Sum(nil)), packed.Close()
}

// errChanged is a file that is another one than when the refresh began.
var errChanged = errors.New("it has changed since the refresh began; run it again")

// pack gives a bundle that has to be the one that was hashed.
func pack(root, hash string) ([]byte, error) {
	var b bytes.Buffer
	now, err := bundleOf(root, &b)
	if err == nil && now != hash {
		err = errChanged
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", root, err)
	}
	return b.Bytes(), nil
}

// unpack opens what was packed.
func unpack(content []byte) (fs.FS, error) {
	return zip.NewReader(bytes.NewReader(content), int64(len(content)))
}

// program is the hash of this program: another build of it may answer otherwise.
func program() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), err
}
