package counter

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"time"
)

// The news desk tells open pages what has changed, as server-sent events
// (WHATWG HTML, section 9.2): a plain answer that does not end.

// mostReaders bounds how many pages are told; further ones do without.
const mostReaders = 256

// heartbeat keeps a connection from being taken for dead, and finds out that a
// page is gone.
const heartbeat = 20 * time.Second

type newsDesk struct {
	mu      sync.Mutex
	readers map[chan bulletin]bool
	last    news
	closed  bool
}

// bulletin is one event.
type bulletin struct {
	event string
	data  any
}

// told is what a page is told about changed files.
type told struct {
	Generation int      `json:"generation"`
	Lines      []string `json:"lines"`
	Trouble    bool     `json:"trouble"`
	At         string   `json:"at"`
}

func (d *newsDesk) publish(n news) {
	d.mu.Lock()
	d.last = n
	d.mu.Unlock()
	d.send(bulletin{"changed", told{n.Generation, n.Lines, n.Trouble, n.At.Format(time.TimeOnly)}})
}

// ready says that something that a page may wait for has been computed.
func (d *newsDesk) ready(key string) { d.send(bulletin{"ready", key}) }

// latest is the last change of the files; the zero news if there was none.
func (d *newsDesk) latest() news {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.last
}

func (d *newsDesk) send(m bulletin) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for reader := range d.readers {
		select {
		case reader <- m:
		default:
			// A page that does not read cannot hold up the others. It has missed
			// something now: it is to ask again, and learns then what it shows.
			delete(d.readers, reader)
			close(reader)
		}
	}
}

func (d *newsDesk) subscribe() (chan bulletin, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.closed || len(d.readers) >= mostReaders {
		return nil, false
	}
	if d.readers == nil {
		d.readers = map[chan bulletin]bool{}
	}
	reader := make(chan bulletin, 16)
	d.readers[reader] = true
	return reader, true
}

func (d *newsDesk) unsubscribe(reader chan bulletin) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.readers[reader] {
		delete(d.readers, reader)
		close(reader)
	}
}

func (d *newsDesk) close() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.closed = true
	for reader := range d.readers {
		delete(d.readers, reader)
		close(reader)
	}
}

// events is the answer that does not end.
func (c *Counter) events(w http.ResponseWriter, r *http.Request) {
	reader, ok := c.news.subscribe()
	if !ok {
		http.Error(w, "too many pages are open", http.StatusServiceUnavailable)
		return
	}
	defer c.news.unsubscribe(reader)
	control := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/event-stream")
	write := func(text string) bool {
		if control.SetWriteDeadline(time.Now().Add(writeTime)) != nil {
			return false
		}
		if _, err := fmt.Fprint(w, text); err != nil {
			return false
		}
		return control.Flush() == nil
	}
	// A page that was made from older files learns so at once.
	if !write(fmt.Sprintf("retry: 2000\nevent: stock\ndata: %d\n\n", c.stock.Load().generation)) {
		return
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-beat.C:
			if !write(": still here\n\n") {
				return
			}
		case m, open := <-reader:
			if !open {
				return
			}
			data, err := json.Marshal(m.data)
			if err != nil || !write(fmt.Sprintf("event: %s\ndata: %s\n\n", m.event, data)) {
				return
			}
		}
	}
}
