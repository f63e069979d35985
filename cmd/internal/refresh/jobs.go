package refresh

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/plan"
	"loudfor/cmd/library"
)

// Question is what is asked of one shop and one car, beside a brief. What is empty is
// as the brief has it.
type Question struct {
	Brief    int // number of the brief in the group
	Cap      string
	Goal     string
	Place    string
	Openings string
}

// Bundle is a file or folder by its hash, and by the name that results show.
type Bundle struct {
	Name, Hash string
	Trouble    string `json:",omitempty"` // why there is no hash: it cannot be read
}

// Group is what a worker takes at a time: the questions about one car in one shop.
type Group struct {
	Program   string
	Shop      Bundle
	Centre    Bundle
	Cars      []Bundle // files and folders of vehicles
	Car       string   // empty: that of the brief
	CarHash   string   // of what is said of it; of all files of cars where the brief names it
	Briefs    []Bundle // none: a brief with nothing but a cap
	Questions []Question
	Keys      []string // of the questions
	// Before is the shop's catalogue of the last refresh, Known what was answered then,
	// question by question; nil where there is none.
	Before Bundle
	Known  []*library.Answer
}

// jobs are those of a plan, in the order of results: by shop, car and question. They
// are made when they are asked for, since there may be a million.
type jobs struct {
	program   string
	shops     []Bundle
	centre    Bundle
	cars      []Bundle
	names     []string // of cars
	hashes    []string // of what is said of each
	briefs    []Bundle
	questions []Question
	roots     map[string]string // where a bundle lies
}

// expand hashes all that a plan names. A catalogue that cannot be read is one of a shop
// without answers; anything else has to be sound.
func expand(p plan.Plan) (*jobs, error) {
	j := &jobs{roots: map[string]string{}}
	var err error
	if j.program, err = program(); err != nil {
		return nil, err
	}
	shops, err := p.Shops()
	if err != nil {
		return nil, err
	}
	prefix := commonFolder(shops)
	for _, name := range shops {
		hash, err := bundleOf(name, nil)
		shop := j.bundle(name, strings.TrimPrefix(name, prefix), hash)
		if err != nil {
			shop.Trouble = fmt.Sprintf("the catalogue cannot be read: %v", err)
		}
		j.shops = append(j.shops, shop)
	}
	need := func(key string, names []string) (all []Bundle, err error) {
		for _, name := range names {
			hash, err := bundleOf(name, nil)
			if err != nil {
				return nil, p.Problem(key, fmt.Sprintf("%s cannot be read: %v", name, err), "name a file or a folder that is there").Err()
			}
			all = append(all, j.bundle(name, name, hash))
		}
		return all, nil
	}
	if j.cars, err = need("vehicles", p.Vehicles); err != nil {
		return nil, err
	}
	if j.briefs, err = need("briefs", p.Briefs); err != nil {
		return nil, err
	}
	if p.Centre != "" {
		centre, err := need("centre", []string{p.Centre})
		if err != nil {
			return nil, err
		}
		j.centre = centre[0]
	}
	if err := j.check(p); err != nil {
		return nil, err
	}
	for b := range max(1, len(p.Briefs)) {
		for _, cap := range orOne(p.Caps, catalog.Money.String) {
			for _, goal := range orOne(p.Goals, catalog.Goal.String) {
				for _, place := range orOne(p.Places, strings.Clone) {
					for _, openings := range orOne(p.Openings, strings.Clone) {
						j.questions = append(j.questions, Question{b, cap, goal, place, openings})
					}
				}
			}
		}
	}
	return j, nil
}

// orOne are the words of a list, or one that is empty.
func orOne[T any](list []T, word func(T) string) (words []string) {
	for _, v := range list {
		words = append(words, word(v))
	}
	if len(words) == 0 {
		words = []string{""}
	}
	return words
}

func (j *jobs) bundle(root, name, hash string) Bundle {
	if hash != none {
		j.roots[hash] = root
	}
	return Bundle{Name: name, Hash: hash}
}

// check reads cars and briefs, and finds out the names of the cars.
func (j *jobs) check(p plan.Plan) error {
	var vehicles []catalog.Vehicle
	if len(p.Vehicles) > 0 {
		all, report := catalog.LoadVehicles(p.Vehicles...)
		if err := report.Err(); err != nil {
			return err
		}
		vehicles = all
	}
	for _, name := range p.Briefs {
		if _, report := catalog.LoadBrief(name); report.Err() != nil {
			return report.Err()
		}
	}
	j.names = p.Cars
	for _, name := range p.Cars {
		if _, ok := catalog.FindVehicle(name, vehicles); !ok {
			return p.Problem("cars", fmt.Sprintf("no vehicle is called %q", name), "the vehicles are "+strings.Join(catalog.VehicleNames(vehicles), ", ")).Err()
		}
	}
	if len(p.Cars) == 0 {
		for _, v := range vehicles {
			j.names = append(j.names, v.Name)
		}
	}
	for _, name := range j.names {
		hash, err := carHash(name, vehicles)
		if err != nil {
			return err
		}
		j.hashes = append(j.hashes, hash)
	}
	if len(j.names) == 0 { // whichever the brief names
		var all []string
		for _, c := range j.cars {
			all = append(all, c.Hash)
		}
		j.names, j.hashes = []string{""}, []string{strings.Join(all, " ")}
	}
	return nil
}

// carHash is that of a car alone: neither other cars of its file change it, nor where in
// the file it stands.
func carHash(name string, vehicles []catalog.Vehicle) (string, error) {
	v, _ := catalog.FindVehicle(name, vehicles)
	v.Where = catalog.Position{}
	v.Labour = slices.Clone(v.Labour)
	for i := range v.Labour {
		v.Labour[i].Where = catalog.Position{}
	}
	text, err := json.Marshal(v)
	return fmt.Sprintf("%x", sha256.Sum256(text)), err
}

// commonFolder is what the paths of all shops begin with, up to a slash.
func commonFolder(paths []string) string {
	prefix := paths[0]
	for _, p := range paths {
		for !strings.HasPrefix(p, prefix) {
			prefix = prefix[:len(prefix)-1]
		}
	}
	return prefix[:strings.LastIndexAny(prefix, `/\`)+1]
}

// groups is how many there are, and count how many jobs.
func (j *jobs) groups() int { return len(j.shops) * len(j.names) }
func (j *jobs) count() int  { return j.groups() * len(j.questions) }

// group makes the group of a number, with all of its questions.
func (j *jobs) group(i int) *Group {
	g := &Group{Program: j.program, Shop: j.shops[i/len(j.names)], Centre: j.centre, Cars: j.cars, Car: j.names[i%len(j.names)], CarHash: j.hashes[i%len(j.names)], Briefs: j.briefs, Questions: j.questions}
	for _, q := range g.Questions {
		g.Keys = append(g.Keys, g.key(q, g.Shop.Hash))
	}
	return g
}

// key is the hash of all that an answer depends on; that of a shop without a hash is
// its own, since it is never kept.
func (g *Group) key(q Question, shop string) string {
	h := sha256.New()
	brief := none
	if len(g.Briefs) > 0 {
		brief = g.Briefs[q.Brief].Hash
	}
	if shop == none {
		shop = "unread: " + g.Shop.Name
	}
	for _, part := range []string{g.Program, shop, g.Car, g.CarHash, brief, q.Cap, q.Goal, q.Place, q.Openings} {
		fmt.Fprintf(h, "%d %s\n", len(part), part)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// rankingKey is that of the centre's ranking for a question.
func (g *Group) rankingKey(q Question) string { return g.key(q, "ranking "+g.Centre.Hash) }

// slot names what is asked, whatever the shop sells today.
func (g *Group) slot(q Question) string { return g.Shop.Name + " " + g.key(q, "slot") }

// only leaves the questions of some places, in their order.
func (g *Group) only(places []int) *Group {
	few := *g
	few.Questions, few.Keys, few.Known = nil, nil, nil
	for _, i := range places {
		few.Questions = append(few.Questions, g.Questions[i])
		few.Keys = append(few.Keys, g.Keys[i])
		if g.Known != nil {
			few.Known = append(few.Known, g.Known[i])
		}
	}
	return &few
}
