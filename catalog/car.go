package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
	"loudfor/model/cabin"
)

// A car of a file is its body style with what was measured in its place.

// finish makes the vehicle out of its style and its own values.
func (c *car) finish(r *document.Reader, n *yaml.Node) {
	if c.openField {
		open := OpenField()
		open.Name, open.Where = c.v.Name, r.Where(n)
		c.v = open
		return
	}
	if c.body == nil {
		if c.at["body"] == nil {
			r.Complain(n, "a vehicle needs the key \"body\"", "the body style that it starts from: add body: and one of "+strings.Join(bodyNames(), ", "))
		}
		return
	}
	style := strings.TrimSpace(document.Resolve(c.body).Value)
	body, ok := cabin.BodyNamed(style)
	if !ok {
		r.Complain(c.body, fmt.Sprintf("%q is not a body style", style),
			hint(units.Nearest(style, bodyNames()), "the body styles are "+strings.Join(bodyNames(), ", ")))
		return
	}
	style = body.Name
	c.override(&body)
	c.learn(r, &body)
	body.Name = c.v.Name
	c.v.Body = body
	c.v.Assumed = append([]string(nil), body.Assumed...)
	c.v.assume(style)
	c.check(r, n, style)
}

// override puts the car's own values in place of the style's, and drops the
// assumptions that they replace.
func (c *car) override(body *cabin.Body) {
	stated := func(words ...string) {
		body.Assumed = slices.DeleteFunc(body.Assumed, func(a string) bool {
			return slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(a, w) })
		})
	}
	if c.inside != [3]float64{} {
		*body = body.Resized(c.inside[0], c.inside[1], c.inside[2])
		body.Spread.Length, body.Spread.Width, body.Spread.Height = statedSize, statedSize, statedSize
		stated("inside dimensions", "the boot counts")
	}
	switch {
	case c.q > 0:
		*body = body.WithFirstModeQ(c.q)
	case c.admittance > 0:
		body.Cavity.Admittance = c.admittance
	}
	if c.q > 0 || c.admittance > 0 {
		stated("Q of the first mode")
		body.Spread.Admittance = min(body.Spread.Admittance, statedDamping)
	}
	if c.exponent != nil {
		body.Cavity.Exponent, body.Spread.Exponent = *c.exponent, statedExponent
	}
	if c.zone > 0 {
		body.Cavity.Zone, body.Spread.Zone = math.Log(c.zone), statedZone
	}
	if c.floor > 0 {
		body.Cavity.Ground, body.Spread.Ground = c.floor, statedEdge
	}
	body.Cavity.Panels = c.panels
	if c.source != nil {
		body.Source = *c.source
	}
	if c.area > 0 {
		body.SourceArea = c.area
	}
	for _, p := range c.places {
		if i := slices.IndexFunc(body.Places, func(q cabin.NamedPlace) bool { return strings.EqualFold(q.Name, p.Name) }); i >= 0 {
			body.Places[i] = p
		} else {
			body.Places = append(body.Places, p)
		}
	}
	c.doors(body.Sets, c.hinge)
	c.doors(c.sets, 0) // these say themselves where they are
	for _, s := range c.sets {
		if i := slices.IndexFunc(body.Sets, func(q cabin.NamedOpenings) bool { return strings.EqualFold(q.Name, s.Name) }); i >= 0 {
			body.Sets[i] = s
		} else {
			body.Sets = append(body.Sets, s)
		}
	}
	if c.hinge > 0 {
		body.Spread.Hinge = statedEdge
	}
	if c.angle > 0 {
		for i, a := range body.Assumed {
			if _, windows, ok := strings.Cut(a, "; windows open"); ok && strings.HasPrefix(a, "doors open") {
				body.Assumed[i] = "windows open" + windows
			}
		}
	}
	body.Assumed = append(body.Assumed, c.guessed...)
	if c.curve != nil {
		body.Curve = c.curve
	}
}

// doors sets how the doors in the sides stand and, with a hinge, where they hang: as
// the file says it of all of them, but of those whose angle it states by itself.
func (c *car) doors(sets []cabin.NamedOpenings, hinge float64) {
	for _, set := range sets {
		for i := range set.Openings {
			o := &set.Openings[i]
			if o.Leaf.Hinge == cabin.Unhinged || (o.Wall != cabin.Left && o.Wall != cabin.Right) {
				continue
			}
			if c.angle > 0 && o.Leaf.Spread != cabin.StatedAngle {
				o.Leaf.Angle, o.Leaf.Spread = c.angle, cabin.StatedAngle
			}
			if hinge > 0 {
				o.U = hinge
			}
		}
	}
}

// Spreads of values that somebody measured in the car with a tape, or fitted
// from readings (common practice, no source).
const (
	statedSize     = 0.02
	statedDamping  = 0.2
	statedExponent = 0.25
	statedZone     = 0.3
	statedEdge     = 0.02 // m
)

// largestCar is the largest inside that is computed, m3: a coach of 10 x 2.5 x
// 2.2 m has 55. The modes of a hall take minutes, and no car is one.
const largestCar = 60

func bodyNames() []string {
	var out []string
	for _, b := range cabin.Bodies() {
		out = append(out, b.Name)
	}
	return out
}

// widestOpening is how much wider than the inside an opening may be: the inside
// is measured between the trims (common practice, no source).
const widestOpening = 1.3

// check reports what cannot be in the car, at the key that says so.
func (c *car) check(r *document.Reader, n *yaml.Node, style string) {
	b := &c.v.Body
	if v := b.Cavity.Volume(); v > largestCar {
		r.Complain(or(c.at["inside"], n), fmt.Sprintf("an inside of %.0f m3 is a hall, not a car", v),
			fmt.Sprintf("at most %d m3 are computed, as a coach of 10 x 2.5 x 2.2 m has: measure from the firewall to the tail, between the trims, and from floor to roof", largestCar))
		return
	}
	l, w, h := b.Cavity.Length, b.Cavity.Width, b.Cavity.Height
	size := fmt.Sprintf("the inside is %.0f x %.0f x %.0f cm", 100*l, 100*w, 100*h)
	outside := func(p cabin.Point) bool { return p.X > l || p.Y > w || p.Z > h }
	if c.source != nil && outside(*c.source) {
		r.Complain(c.at["source"], "the source stands outside the car", size)
	}
	before := r.Count()
	for i, p := range c.places {
		if outside(p.Point) {
			r.Complain(c.placeAt[i], fmt.Sprintf("%s lies outside the car", p.Name), size)
		}
	}
	for i, s := range c.sets {
		if err := b.Cavity.CheckOpenings(s.Openings); err != nil {
			r.Complain(c.setAt[i], fmt.Sprintf("%s does not fit the car: %v", s.Name, err), size)
		}
	}
	if c.q > 0 && c.admittance > 0 {
		r.Twice(c.at["admittance"], "the damping is given twice", "keep first_mode_q or admittance", r.Where(c.at["first_mode_q"]))
	}
	if c.curve != nil {
		for _, s := range [...]struct {
			word, what string
			names      []string
		}{{c.curve.Place, "place", b.PlaceNames()}, {c.curve.Openings, "set of openings", b.OpeningNames()}} {
			if s.word != "" && !slices.ContainsFunc(s.names, func(k string) bool { return strings.EqualFold(k, s.word) }) {
				r.Complain(c.at["curve"], fmt.Sprintf("the car has no %s called %q", s.what, s.word),
					hint(units.Nearest(s.word, s.names), "there are "+strings.Join(s.names, ", ")))
			}
		}
	}
	wrong := r.Count() > before // the warnings below are none of it
	if boot := c.v.Boot; min(boot[0], boot[1]) > max(w, h) || max(boot[0], boot[1]) > max(w, h)*widestOpening {
		r.Warn(or(c.at["boot_opening"], n), "the opening of the boot is larger than the car", size)
	}
	if v := &c.v; v.Standby >= v.Alternator {
		at, what := c.at["standby"], "the car takes more than its alternator gives"
		if at == nil {
			at = c.at["alternator"]
		}
		r.Warn(or(at, n), what, fmt.Sprintf("%g A of %g A: nothing is left for an amplifier", v.Standby, v.Alternator))
	}
	if !c.good || wrong {
		return
	}
	if err := b.Check(); err != nil {
		r.Complain(n, err.Error(), "mend the value, or leave it out to take that of a "+style)
	}
}

func or(a, b *yaml.Node) *yaml.Node {
	if a != nil {
		return a
	}
	return b
}
