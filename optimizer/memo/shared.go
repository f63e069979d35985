package memo

import (
	"errors"
	"reflect"
	"sync"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
)

// Hundreds of briefs meet one catalogue when prices change. What they have in
// common depends on neither prices nor wishes: a driver's card completed, an
// amplifier rated, and what a car does to the sound at one place. Remembering them
// leaves every answer as it is, since each is a pure function of what it is remembered by.

// errBroken stays where a panic ended the only attempt: those who come later must not
// take the zero that it left for an answer.
var errBroken = errors.New("a fault of the program ended what was to be remembered")

// Shared remembers what several problems have in common; the zero value is
// ready, and may be used by problems that are solved at the same time. Limits:
// it keeps every part that it has ever seen, but only so many spots, and cards must
// not be changed meanwhile.
type Shared struct {
	mutex sync.Mutex
	cones map[coneKey]*cone
	rooms []*Room
	parts sync.Map // see Of
	cars  *Shared  // that remembers the rooms; nil: this one does
}

// Of is what follows from a part's figures, which stand at a key, and remembers it. What
// follows from keys of one type is of one type too; who asks at the same time may work
// it out as well.
func Of[K comparable, V any](s *Shared, key K, follows func() V) V {
	if s == nil {
		return follows()
	}
	known, ok := s.parts.Load(key)
	if !ok {
		known, _ = s.parts.LoadOrStore(key, follows())
	}
	return known.(V)
}

// Cars is a memory of other cards for the cars that s remembers, with which those cards
// can be forgotten: for a program that reads one catalogue after another.
func (s *Shared) Cars() *Shared { return &Shared{cars: s} }

// coneKey is a card in air of some temperature. A part with another price
// points to the same card.
type coneKey struct {
	card *driver.Card
	air  air.Air
}

type cone struct {
	once   sync.Once
	driver driver.Driver
	fault  error
}

// Complete is driver.Estimate, done once for each card and air.
func (s *Shared) Complete(card *driver.Card, a air.Air) (driver.Driver, error) {
	if s == nil {
		return driver.Estimate(*card, a)
	}
	s.mutex.Lock()
	known := s.cones[coneKey{card, a}]
	if known == nil {
		known = new(cone)
		if s.cones == nil {
			s.cones = make(map[coneKey]*cone)
		}
		s.cones[coneKey{card, a}] = known
	}
	s.mutex.Unlock()
	known.once.Do(func() {
		known.fault = errBroken
		known.driver, known.fault = driver.Estimate(*card, a)
	})
	return known.driver, known.fault
}

// Spot is a place in a car, which stands in one way.
type Spot struct {
	Body            cabin.Body
	Place, Openings string
	Celsius         float64
}

// Room is what one spot does to the sound; the draws around it are made
// when a band is asked for.
type Room struct {
	Spot
	once     sync.Once
	response cabin.Response
	fault    error

	mutex sync.Mutex
	drawn map[drawKey][]cabin.Response
}

// drawKey tells draws apart.
type drawKey struct {
	n    int
	seed uint64
}

// Room finds the spot. Two cars are one when all that is known of them is the
// same: they come from many files, and their names say nothing.
func (s *Shared) Room(at Spot) *Room {
	if s == nil {
		return &Room{Spot: at}
	}
	if s.cars != nil {
		return s.cars.Room(at)
	}
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, r := range s.rooms {
		if r.Place == at.Place && r.Openings == at.Openings && r.Celsius == at.Celsius && reflect.DeepEqual(r.Body, at.Body) {
			return r
		}
	}
	r := &Room{Spot: at}
	s.rooms = append(s.rooms[max(0, len(s.rooms)+1-mostRooms):], r)
	return r
}

// mostRooms are kept, the latest: a quarter of a megabyte each with their draws.
const mostRooms = 64

// Respond is cabin.Body.Respond, done once.
func (r *Room) Respond() (cabin.Response, error) {
	r.once.Do(func() {
		r.fault = errBroken
		r.response, r.fault = r.Body.Respond(bass.Grid(), r.Place, r.Openings, r.Celsius)
	})
	return r.response, r.fault
}

// Draw is cabin.Body.Ensemble, done once for each seed and number, and without working out
// the exact response again.
func (r *Room) Draw(n int, seed uint64) ([]cabin.Response, error) {
	exact, err := r.Respond()
	if err != nil {
		return nil, err
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if known := r.drawn[drawKey{n, seed}]; known != nil {
		return known, nil
	}
	near, err := r.Body.NearbyKnown(exact, r.Place, r.Openings, r.Celsius)
	if err != nil {
		return nil, err
	}
	all, err := near.Ensemble(n, seed)
	if err != nil {
		return nil, err
	}
	if r.drawn == nil {
		r.drawn = make(map[drawKey][]cabin.Response)
	}
	r.drawn[drawKey{n, seed}] = all
	return all, nil
}
