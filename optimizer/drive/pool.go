package drive

import (
	"sync"

	"loudfor/model/bass"
	"loudfor/model/cabin"
)

// A Prepared has room for what it learns, a hundred kilobytes, and clearing new
// memory for that takes longer than filling it in. So those that are done with
// are used again.

var pool = sync.Pool{New: func() any { return new(bass.Prepared) }}

// Prepare is bass.Prepare. Give it to Release when nothing refers to it any more.
func Prepare(s bass.Setup, room *cabin.Response) (*bass.Prepared, error) {
	p := pool.Get().(*bass.Prepared)
	if err := bass.PrepareInto(p, s, room); err != nil {
		Release(p)
		return nil, err
	}
	return p, nil
}

// Release lets a Prepared be used again.
func Release(p *bass.Prepared) { pool.Put(p) }
