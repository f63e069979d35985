package refresh

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// The queue is three things of JetStream: a stream of groups, from which a group goes
// when it is acknowledged; a stream of answers, one under each key; a store of bundles,
// for workers that have not the files. A group that is in the queue already is refused
// by the server, so that a refresh that was killed can be given again as it is.

const (
	groupStream  = "loudfor-groups"
	answerStream = "loudfor-answers"
	bundleStore  = "loudfor-bundles"
	consumer     = "workers"

	groupSubject  = "loudfor.groups."
	answerSubject = "loudfor.answers."
	tryingSubject = "loudfor.trying."
)

// errAway is a server that does not answer.
var errAway = errors.New("the queue does not answer")

// answersLast is how long an answer waits for the one who gave the plan.
const answersLast = 7 * 24 * time.Hour

// queue is a connection to it.
type queue struct {
	server *server.Server // inside this process; nil: elsewhere
	conn   *nats.Conn
	js     jetstream.JetStream
	at     string       // where it is, for messages
	say    func(string) // what somebody should know who waits

	groups, answers jetstream.Stream
	bundles         jetstream.ObjectStore
}

// reach is how long a call waits for the server before it is tried again, and again how
// long until then.
const (
	reach = 5 * time.Second
	again = 500 * time.Millisecond
)

// greeting is how long a server elsewhere may take to answer for the first time, in case
// there is none at the address; one that was there is waited for as long as it takes.
var greeting = 2 * time.Minute // a test waits less

// embedded starts a server without a port that keeps its files in a folder.
func embedded(folder string) (*server.Server, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	s, err := server.NewServer(&server.Options{DontListen: true, JetStream: true, StoreDir: folder, NoLog: true, NoSigs: true, JetStreamMaxStore: 1 << 40, JetStreamMaxMemory: 1 << 28})
	if err != nil {
		return nil, err
	}
	s.Start()
	if !s.ReadyForConnections(time.Minute) {
		s.Shutdown()
		return nil, fmt.Errorf("the queue in %s does not start: is the folder writable, and has it room?", folder)
	}
	return s, nil
}

// connect opens the queue of a server by its address, or inside this process.
func connect(ctx context.Context, url string, inside *server.Server, silence time.Duration, say func(string)) (*queue, error) {
	q := &queue{server: inside, say: say}
	options := []nats.Option{nats.MaxReconnects(-1), nats.ReconnectWait(again), nats.RetryOnFailedConnect(true), nats.Name("loudfor")}
	if inside != nil {
		options = append(options, nats.InProcessServer(inside))
	} else {
		q.at = fmt.Sprintf(" at %s (a NATS server with JetStream)", url)
	}
	var err error
	if q.conn, err = nats.Connect(url, options...); err != nil {
		return nil, fmt.Errorf("there can be no queue at %q: %w; write an address such as nats://queue.example:4222", url, err)
	}
	within, stop := context.WithTimeout(ctx, greeting)
	defer stop()
	if q.js, err = jetstream.New(q.conn); err == nil {
		err = q.prepare(within, silence)
	}
	if err != nil {
		q.close()
		if within.Err() != nil && ctx.Err() == nil {
			return nil, fmt.Errorf("the queue%s has not answered for %v; see that the address is right, that the server runs, and that it was started with JetStream", q.at, greeting)
		}
		return nil, fmt.Errorf("the queue cannot be used: %w; see that its folder may be written, and that its disk has room", err)
	}
	return q, nil
}

// prepare finds streams and store, or makes them.
func (q *queue) prepare(ctx context.Context, silence time.Duration) (err error) {
	return q.insist(ctx, func(ctx context.Context) error {
		if q.groups, err = q.js.CreateOrUpdateStream(ctx, jetstream.StreamConfig{Name: groupStream, Subjects: []string{groupSubject + ">"}, Retention: jetstream.WorkQueuePolicy,
			MaxMsgsPerSubject: 1, Discard: jetstream.DiscardNew, DiscardNewPerSubject: true}); err != nil {
			return err
		}
		if q.answers, err = q.js.CreateOrUpdateStream(ctx, jetstream.StreamConfig{Name: answerStream, Subjects: []string{answerSubject + ">", tryingSubject + ">"}, MaxMsgsPerSubject: 1, MaxAge: answersLast}); err != nil {
			return err
		}
		if silence > 0 {
			if _, err = q.groups.CreateOrUpdateConsumer(ctx, jetstream.ConsumerConfig{Durable: consumer, AckPolicy: jetstream.AckExplicitPolicy, AckWait: silence, MaxAckPending: -1}); err != nil {
				return err
			}
		}
		if q.server == nil {
			q.bundles, err = q.js.CreateOrUpdateObjectStore(ctx, jetstream.ObjectStoreConfig{Bucket: bundleStore})
		}
		return err
	})
}

func (q *queue) close() {
	q.conn.Close()
}

// insist does what needs the server until it is done: a server that is away comes back.
func (q *queue) insist(ctx context.Context, do func(context.Context) error) error {
	for told := false; ; {
		within, stop := context.WithTimeout(ctx, reach)
		err := do(within)
		stop()
		if err == nil || ctx.Err() != nil || !away(err) {
			return errors.Join(ctx.Err(), err)
		}
		if !told {
			q.say(fmt.Sprintf("the queue%s does not answer (%v); waiting for it", q.at, err))
			told = true
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(again):
		}
	}
}

// away says that an error is of the connection and not of what was asked.
func away(err error) bool {
	for _, passing := range []error{context.DeadlineExceeded, nats.ErrTimeout, nats.ErrNoResponders, nats.ErrConnectionClosed, nats.ErrDisconnected,
		nats.ErrConnectionReconnecting, nats.ErrReconnectBufExceeded, nats.ErrNoServers, jetstream.ErrNoStreamResponse, jetstream.ErrJetStreamNotEnabled} {
		if errors.Is(err, passing) {
			return true
		}
	}
	var api *jetstream.APIError
	return errors.As(err, &api) && api.Code == 503 && api.ErrorCode != sameSubject
}

// give puts a group into the queue, unless it is there already.
func (q *queue) give(ctx context.Context, g *Group) error {
	text, err := json.Marshal(g)
	if err != nil {
		return err
	}
	err = q.insist(ctx, func(ctx context.Context) error {
		_, err := q.js.Publish(ctx, groupSubject+g.name(), text)
		return err
	})
	var api *jetstream.APIError
	if errors.As(err, &api) && api.ErrorCode == sameSubject {
		return nil
	}
	return err
}

// sameSubject is the server's word for a message whose subject has one already.
const sameSubject = 10077

// name is the same for the same group of questions, and for no other.
func (g *Group) name() string { return g.Keys[0] + "-" + fmt.Sprint(len(g.Keys)) }

// keep stores what was found under its key.
func (q *queue) keep(ctx context.Context, key string, found any) error {
	text, err := json.Marshal(found)
	if err != nil {
		return err
	}
	return q.insist(ctx, func(ctx context.Context) error {
		_, err := q.js.Publish(ctx, answerSubject+key, text)
		return err
	})
}

// last is the message of a subject; nil: there is none.
func (q *queue) last(ctx context.Context, subject string) (text []byte, err error) {
	err = q.insist(ctx, func(ctx context.Context) error {
		m, err := q.answers.GetLastMsgForSubject(ctx, subject)
		if errors.Is(err, jetstream.ErrMsgNotFound) {
			return nil
		}
		if err == nil {
			text = m.Data
		}
		return err
	})
	return text, err
}

// trying notes that a job is being tried for the n-th time.
func (q *queue) trying(ctx context.Context, key string, n int) error {
	return q.insist(ctx, func(ctx context.Context) error {
		_, err := q.js.Publish(ctx, tryingSubject+key, fmt.Append(nil, n))
		return err
	})
}

// tried is how often.
func (q *queue) tried(ctx context.Context, key string) (n int, err error) {
	text, err := q.last(ctx, tryingSubject+key)
	if text != nil {
		_, err = fmt.Sscan(string(text), &n)
	}
	return n, err
}

// lend puts a bundle where workers elsewhere find it.
func (q *queue) lend(ctx context.Context, hash string, content func() ([]byte, error)) error {
	if q.bundles == nil || hash == none {
		return nil
	}
	err := q.insist(ctx, func(ctx context.Context) error {
		_, err := q.bundles.GetInfo(ctx, hash)
		return err
	})
	if !errors.Is(err, jetstream.ErrObjectNotFound) {
		return err
	}
	text, err := content()
	if err != nil {
		return err
	}
	return q.insist(ctx, func(ctx context.Context) error {
		_, err := q.bundles.Put(ctx, jetstream.ObjectMeta{Name: hash}, bytes.NewReader(text))
		return err
	})
}

// borrow is the Source of workers elsewhere.
func (q *queue) borrow(ctx context.Context, hash string) (content []byte, err error) {
	err = q.insist(ctx, func(ctx context.Context) error {
		content, err = q.bundles.GetBytes(ctx, hash)
		return err
	})
	return content, err
}

// queueFolder is where the server inside keeps its files.
func queueFolder(kept string) string { return filepath.Join(kept, "queue") }
