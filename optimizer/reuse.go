package optimizer

import (
	"sync"

	"loudfor/model/bass"
	"loudfor/model/cabin"
)

// A Prepared has room for what it learns, a hundred kilobytes, and clearing new
// memory for that takes longer than filling it in. So those that are done with
// are used again.

var spent = sync.Pool{New: func() any { return new(bass.Prepared) }}

// prepare is bass.Prepare. Give it to done when nothing refers to it any more.
func prepare(s bass.Setup, room *cabin.Response) (*bass.Prepared, error) {
	p := spent.Get().(*bass.Prepared)
	if err := bass.PrepareInto(p, s, room); err != nil {
		done(p)
		return nil, err
	}
	return p, nil
}

func done(p *bass.Prepared) { spent.Put(p) }
