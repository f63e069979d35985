package optimizer

import (
	"reflect"
	"sync"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
)

// Hundreds of briefs meet one catalogue when prices change. What they have in
// common depends on neither prices nor wishes: a driver's card completed, and
// what a car does to the sound at one place. Remembering both leaves every
// answer as it is, since each is a pure function of what it is remembered by.

// Shared remembers what several problems have in common; the zero value is
// ready, and may be used by problems that are solved at the same time. Limits:
// it keeps all that it has ever seen, and cards must not be changed meanwhile.
type Shared struct {
	mutex sync.Mutex
	cones map[coneKey]*sharedCone
	rooms []*sharedRoom
}

// coneKey is a card in air of some temperature. A part with another price
// points to the same card.
type coneKey struct {
	card *driver.Card
	air  air.Air
}

type sharedCone struct {
	once   sync.Once
	driver driver.Driver
	fault  error
}

// complete is driver.Estimate, done once for each card and air.
func (s *Shared) complete(card *driver.Card, a air.Air) (driver.Driver, error) {
	if s == nil {
		return driver.Estimate(*card, a)
	}
	s.mutex.Lock()
	known := s.cones[coneKey{card, a}]
	if known == nil {
		known = new(sharedCone)
		if s.cones == nil {
			s.cones = make(map[coneKey]*sharedCone)
		}
		s.cones[coneKey{card, a}] = known
	}
	s.mutex.Unlock()
	known.once.Do(func() { known.driver, known.fault = driver.Estimate(*card, a) })
	return known.driver, known.fault
}

// spot is a place in a car, which stands in one way.
type spot struct {
	body            cabin.Body
	place, openings string
	celsius         float64
}

// sharedRoom is what one spot does to the sound; the draws around it are made
// when a band is asked for.
type sharedRoom struct {
	spot
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

// room finds the spot. Two cars are one when all that is known of them is the
// same: they come from many files, and their names say nothing.
func (s *Shared) room(at spot) *sharedRoom {
	if s == nil {
		return &sharedRoom{spot: at}
	}
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, r := range s.rooms {
		if r.place == at.place && r.openings == at.openings && r.celsius == at.celsius && reflect.DeepEqual(r.body, at.body) {
			return r
		}
	}
	r := &sharedRoom{spot: at}
	s.rooms = append(s.rooms, r)
	return r
}

// respond is cabin.Body.Respond, done once.
func (r *sharedRoom) respond() (cabin.Response, error) {
	r.once.Do(func() { r.response, r.fault = r.body.Respond(bass.Grid(), r.place, r.openings, r.celsius) })
	return r.response, r.fault
}

// draw is cabin.Body.Ensemble, done once for each seed and number, and without working out
// the exact response again.
func (r *sharedRoom) draw(n int, seed uint64) ([]cabin.Response, error) {
	exact, err := r.respond()
	if err != nil {
		return nil, err
	}
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if known := r.drawn[drawKey{n, seed}]; known != nil {
		return known, nil
	}
	near, err := r.body.NearbyKnown(exact, r.place, r.openings, r.celsius)
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
