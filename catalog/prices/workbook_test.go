package prices

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
)

// withSheet puts other XML in place of the sheet of a workbook.
func withSheet(t testing.TB, workbook []byte, sheet string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(workbook), int64(len(workbook)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range r.File {
		to, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(f.Name, "xl/worksheets/sheet") {
			_, err = io.WriteString(to, sheet)
		} else {
			var from io.ReadCloser
			if from, err = f.Open(); err == nil {
				_, err = io.Copy(to, from)
				from.Close()
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
