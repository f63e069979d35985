package document

import (
	"errors"
	"os"
	"testing"
)

// A file in memory is one that anybody may read, under whatever name it had.
func TestFilesInMemory(t *testing.T) {
	m := Memory{"/shop/brief.yaml": []byte("cap")}
	for _, name := range []string{"/shop/brief.yaml", "/shop/cars/../brief.yaml"} {
		f, err := m.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		if i, err := f.Stat(); err != nil || i.Name() != "brief.yaml" || i.Size() != 3 || i.Mode() != 0o444 || i.IsDir() {
			t.Errorf("%v, %v", i, err)
		}
	}
	if _, err := m.Open("/shop/cars"); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("%v", err)
	}
}
