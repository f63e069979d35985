package optimizer

import (
	"sync"
	"sync/atomic"
)

// news passes on how far a search has come, while it is at work: a round of a
// large catalogue takes longer than anyone waits without a sign.
type news struct {
	done   atomic.Int64
	listen sync.Mutex
}

// report tells that more groups are settled. A listener that is still busy
// with the last news misses this one, so that it never holds up the search.
func (s *search) report(more, all int) {
	done := s.news.done.Add(int64(more))
	if s.Problem.Progress == nil || !s.news.listen.TryLock() {
		return
	}
	defer s.news.listen.Unlock()
	p := Progress{Done: int(done), Blocks: all}
	if len(s.total.best) > 0 { // frozen during a round
		p.Best = s.total.best[0].level.DB()
	}
	s.Problem.Progress(p)
}
