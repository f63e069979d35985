package book

import (
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"unsafe"

	"modernc.org/libc"
	lib "modernc.org/sqlite/lib"
)

// A file layer between SQLite and the system that writes down each write, each
// truncation, each removal and each sync, as SQLite's own tests have one (SQLite,
// "How SQLite Is Tested", 3.3 Crash Testing). From what it wrote down the files
// can be made again as they may lie on a disk whose power failed at any moment:
// what was synced is there, and of the rest all, nothing, or some.

// lossy is the name of the layer; to be set as a further setting of a connection.
const lossy = "lossy"

// act is one thing that was done to a file.
type act struct {
	path   string // empty: a confirmation
	kind   int
	offset int64
	data   []byte
	quote  int64 // that was confirmed
}

const (
	writes = iota
	truncates
	removes
	syncs
	confirms
)

var layer struct {
	once sync.Once
	sync.Mutex
	acts    []act
	paths   map[uintptr]string  // of open files
	methods map[uintptr]uintptr // theirs, of the system's layer
	ours    map[uintptr]uintptr // tables in place of those
	open    func(*libc.TLS, uintptr, uintptr, uintptr, int32, uintptr) int32
	remove  func(*libc.TLS, uintptr, uintptr, int32) int32
}

func did(a act) {
	layer.Lock()
	defer layer.Unlock()
	layer.acts = append(layer.acts, a)
}

// in is what lies at an address of SQLite's memory.
func in[T any](address uintptr) *T { return *(**T)(unsafe.Pointer(&address)) }

// function is a function of SQLite's tables, and pointerTo the other way round.
func function[F any](address uintptr) F { return *(*F)(unsafe.Pointer(&address)) }

func pointerTo[F any](f F) uintptr { return *(*uintptr)(unsafe.Pointer(&f)) }

type methods = lib.Tsqlite3_io_methods

// original is a file's path and its methods of the system's layer.
func original(file uintptr) (string, *methods) {
	layer.Lock()
	defer layer.Unlock()
	return layer.paths[file], in[methods](layer.methods[file])
}

func lossyOpen(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
	if rc := layer.open(tls, vfs, name, file, flags, out); rc != lib.SQLITE_OK || name == 0 {
		return rc
	}
	layer.Lock()
	defer layer.Unlock()
	table := &in[lib.Tsqlite3_file](file).FpMethods
	layer.paths[file], layer.methods[file] = libc.GoString(name), *table
	if layer.ours[*table] == 0 {
		ours := libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(methods{})))
		*in[methods](ours) = *in[methods](*table)
		in[methods](ours).FxWrite = pointerTo(lossyWrite)
		in[methods](ours).FxTruncate = pointerTo(lossyTruncate)
		in[methods](ours).FxSync = pointerTo(lossySync)
		layer.ours[*table] = ours
	}
	*table = layer.ours[*table]
	return lib.SQLITE_OK
}

func lossyDelete(tls *libc.TLS, vfs, name uintptr, dirSync int32) int32 {
	did(act{path: libc.GoString(name), kind: removes})
	return layer.remove(tls, vfs, name, dirSync)
}

func lossyWrite(tls *libc.TLS, file, from uintptr, n int32, offset int64) int32 {
	path, m := original(file)
	did(act{path: path, kind: writes, offset: offset, data: append([]byte(nil), libc.GoBytes(from, int(n))...)})
	return function[func(*libc.TLS, uintptr, uintptr, int32, int64) int32](m.FxWrite)(tls, file, from, n, offset)
}

func lossyTruncate(tls *libc.TLS, file uintptr, size int64) int32 {
	path, m := original(file)
	did(act{path: path, kind: truncates, offset: size})
	return function[func(*libc.TLS, uintptr, int64) int32](m.FxTruncate)(tls, file, size)
}

func lossySync(tls *libc.TLS, file uintptr, flags int32) int32 {
	path, m := original(file)
	rc := function[func(*libc.TLS, uintptr, int32) int32](m.FxSync)(tls, file, flags)
	did(act{path: path, kind: syncs})
	return rc
}

// registered makes the layer known to SQLite.
func registered(t *testing.T) {
	layer.once.Do(func() {
		tls := libc.NewTLS()
		defer tls.Close()
		system := in[lib.Tsqlite3_vfs](lib.Xsqlite3_vfs_find(tls, 0))
		layer.paths, layer.methods, layer.ours = map[uintptr]string{}, map[uintptr]uintptr{}, map[uintptr]uintptr{}
		layer.open = function[func(*libc.TLS, uintptr, uintptr, uintptr, int32, uintptr) int32](system.FxOpen)
		layer.remove = function[func(*libc.TLS, uintptr, uintptr, int32) int32](system.FxDelete)
		ours := libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(*system)))
		vfs := in[lib.Tsqlite3_vfs](ours)
		*vfs = *system
		name, err := libc.CString(lossy)
		if err != nil {
			t.Fatal(err)
		}
		vfs.FzName, vfs.FpNext = name, 0
		vfs.FxOpen, vfs.FxDelete = pointerTo(lossyOpen), pointerTo(lossyDelete)
		if rc := lib.Xsqlite3_vfs_register(tls, ours, 0); rc != lib.SQLITE_OK {
			t.Fatal(rc)
		}
	})
}

// atCut makes the files as they may be after the first n acts: what a later sync
// of the same file made sure of, and of the rest what keep says.
func atCut(before map[string][]byte, acts []act, keep func() bool) map[string][]byte {
	last := map[string]int{} // sync of a file
	for i, a := range acts {
		if a.kind == syncs {
			last[a.path] = i
		}
	}
	files := maps.Clone(before)
	for i, a := range acts {
		if sure, known := last[a.path]; a.kind != removes && (!known || i > sure) && !keep() {
			continue
		}
		switch a.kind {
		case writes:
			f := grown(files[a.path], int(a.offset)+len(a.data))
			copy(f[a.offset:], a.data)
			files[a.path] = f
		case truncates:
			files[a.path] = grown(files[a.path], int(a.offset))[:a.offset]
		case removes:
			delete(files, a.path)
		}
	}
	return files
}

// grown is a copy of a content, at least so long.
func grown(b []byte, size int) []byte {
	out := make([]byte, max(size, len(b)))
	copy(out, b)
	return out
}

// overLayer runs a book over the layer and gives its files before and what was done.
func overLayer(t *testing.T, setting string, quotes int) (path string, before map[string][]byte, acts []act) {
	t.Helper()
	registered(t)
	path = filled(t)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	layer.Lock()
	layer.acts = nil
	layer.Unlock()
	// Moved into the file every few pages: the cuts fall into that as well.
	b, err := Open(path, Options{Now: clockAtNoon, pragma: "wal_autocheckpoint(12)&vfs=" + lossy + setting})
	if err != nil {
		t.Fatal(err)
	}
	for n := range quotes {
		q := marked("cut", n)
		q.Job = 1
		id, err := b.AddQuote(ctx, q)
		if err != nil {
			t.Fatal(err)
		}
		did(act{kind: confirms, quote: id})
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	layer.Lock()
	defer layer.Unlock()
	return path, map[string][]byte{path: content}, layer.acts
}

// lost cuts the power at many moments and gives how many of the books that are
// left miss a quote that was confirmed, or are damaged.
func lost(t *testing.T, path string, before map[string][]byte, acts []act, cuts []int, r *rand.Rand) (lost int) {
	t.Helper()
	for _, n := range cuts {
		for _, keep := range []func() bool{func() bool { return false }, func() bool { return true }, func() bool { return r.IntN(2) == 0 }} {
			dir := t.TempDir()
			for name, content := range atCut(before, acts[:n], keep) {
				if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), content, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			if err := confirmedIn(filepath.Join(dir, filepath.Base(path)), acts[:n]); err != nil {
				lost++
			}
		}
	}
	return lost
}

// confirmedIn opens a book and looks for every quote that was confirmed.
func confirmedIn(path string, acts []act) error {
	b, err := Open(path, Options{})
	if err != nil {
		return err
	}
	defer b.Close()
	if err := b.Check(ctx); err != nil {
		return err
	}
	for _, a := range acts {
		if a.kind == confirms {
			if _, err := b.Quote(ctx, a.quote); err != nil {
				return err
			}
		}
	}
	return nil
}
