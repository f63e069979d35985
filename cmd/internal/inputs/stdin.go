package inputs

import (
	"io"
	"io/fs"

	"loudfor/catalog/document"
)

// stdinName is how messages name what came from standard input.
const stdinName = "standard input"

// fromStdin reads all of standard input, or just too much of it, so that the
// reader's own limit speaks.
func fromStdin(r io.Reader) (fs.FS, error) {
	text, err := io.ReadAll(io.LimitReader(r, document.MostBytes+1))
	return document.Memory{stdinName: text}, err
}
