package book

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
)

// Answers and catalogues are text that repeats itself; compressed (gzip, RFC
// 1952) they take a tenth. The check sum in it finds what the disk has spoiled.

// mostUnpacked is far above anything that is packed here.
const mostUnpacked = 256 << 20

func pack(text []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestSpeed) // a known level cannot fail
	_, _ = w.Write(text)                            // nor can a buffer in memory
	_ = w.Close()
	return b.Bytes()
}

func (b *Book) unpack(packed []byte, what string) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err == nil {
		var text []byte
		if text, err = io.ReadAll(io.LimitReader(r, mostUnpacked+1)); err == nil && len(text) <= mostUnpacked {
			return text, nil
		}
	}
	e := damaged(b.path, fmt.Sprintf("%s cannot be unpacked", what))
	e.Err = err
	return nil, e
}
