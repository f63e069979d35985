package optimizer

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
)

// How far a prediction may be off. Every build is computed again for many
// draws of everything that is uncertain. The draws of the car are the same for
// all builds, since they all would stand in that one car; the draws of a
// driver or an amplifier belong to its SKU, so two builds that share it share
// its error as well. What the difference of two builds then still scatters is
// what really is uncertain about which is louder.

const (
	// draws is how many: the 5 % and 95 % points of 64 scatter by about a
	// sixth of the band, which is more than a band need be known to.
	draws = 64

	lowerTail, upperTail = 0.05, 0.95

	// farthestDraw keeps a draw among things that exist, standard deviations.
	farthestDraw = 3

	// sourceSpread is the relative standard deviation of a source's own output
	// voltage, which its supply sets (common practice, no source).
	sourceSpread = 0.05
)

// bands fills in the bands of all builds, and the ties with the first. It hears
// no interrupt: a level without its band is half an answer, a difference without
// one a false tie, and a thousand builds take some three seconds.
func (t *task) bands(builds []Build) error {
	all := make([]*Build, len(builds))
	for i := range builds {
		all[i] = &builds[i]
	}
	samples, err := t.samples(all)
	if err != nil {
		return err
	}
	for i := 1; i < len(builds); i++ {
		b := &builds[i]
		b.Difference = Difference{DB: (round(b.Objective) - round(builds[0].Objective)).dB(), Band: differing(samples[i], samples[0])}
		b.Tie = math.Abs(b.Difference.DB) <= b.Difference.Band
	}
	return nil
}

// samples fills in the bands of builds, and gives their objectives for every
// draw, which are the same draws for all of them.
func (t *task) samples(builds []*Build) ([][]float64, error) {
	if len(builds) == 0 {
		return nil, nil
	}
	rooms, err := t.cars()
	if err != nil {
		return nil, err
	}
	all := make([][]float64, len(builds))
	each(t.workers(), len(builds), func(i int) {
		s := t.scatter(builds[i], rooms)
		s.fill(builds[i])
		all[i] = s.objective(t.music())
	})
	return all, nil
}

// differing is the band of the difference of two samples of the same draws.
func differing(a, b []float64) float64 {
	difference := make([]float64, len(a))
	for k := range difference {
		difference[k] = a[k] - b[k]
	}
	return halfWidth(difference)
}

// cars are the draws of the car.
func (t *task) cars() ([]cabin.Response, error) {
	if t.open {
		rooms := make([]cabin.Response, draws)
		for i := range rooms {
			rooms[i] = *t.room
		}
		return rooms, nil
	}
	return t.car.draw(t.p.Seed)
}

// sample is a build's levels in every draw, dB.
type sample struct{ reading, music, bass, front []float64 }

// objective are those that the goal ranks by.
func (s *sample) objective(music bool) []float64 {
	if music {
		return s.music
	}
	return s.reading
}

// fill gives the build the bands of its levels.
func (s *sample) fill(b *Build) {
	b.Reading.Band, b.Music.Band, b.Music.BassBand = halfWidth(s.reading), halfWidth(s.music), halfWidth(s.bass)
	if b.Front.Power != FromNothing {
		b.Front.Band = halfWidth(s.front)
	}
}

// scatter is the build in every draw.
func (t *task) scatter(b *Build, rooms []cabin.Response) *sample {
	s := &sample{front: t.scatterFront(b, len(rooms))}
	t.redraw(b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		reading, deep := b.Reading.DB, b.Music.Bass
		if p != nil {
			reading, deep = p.Loudest(drive, t.reading).Level, bass.MusicLevel(p, drive)
		}
		m := deep - t.brief.BassLift
		if b.Front.Power != FromNothing {
			m = min(m, s.front[len(s.music)])
		}
		s.reading, s.bass, s.music = append(s.reading, reading), append(s.bass, deep), append(s.music, m)
	})
	return s
}

// scatterFront is the level of the front in every draw. Pair and power have
// their draws by SKU, the cabin at middle frequencies has one for all builds.
func (t *task) scatterFront(b *Build, draws int) []float64 {
	levels := make([]float64, draws)
	pair, room, power := "", stream(t.p.Seed, "the cabin of the front"), stream(t.p.Seed, "")
	if b.Front.Part != nil {
		pair = b.Front.Part.SKU
	}
	speakers := stream(t.p.Seed, "front "+pair)
	spread := sourceSpread
	if amp := b.Front.Amplifier; amp != nil {
		spread, power = amp.Amplifier.Spec.Spread(amplifier.Stereo), stream(t.p.Seed, amp.SKU)
	} else if b.Front.source != nil {
		power = stream(t.p.Seed, b.Front.source.SKU)
	}
	for k := range levels {
		var z [5]float64
		for i := range z {
			z[i] = normal(speakers)
		}
		stage := b.Front.stage.Vary(z)
		stage.Watts *= math.Exp(2 * spread * normal(power)) // volts squared
		levels[k], _, _ = stage.Play(t.cabin.Vary([2]float64{normal(room), normal(room)}))
	}
	return levels
}

// redraw shows the build as it is in every draw: its box in that car, and what
// drives it. p is nil for a draw at the edge, which fits no box.
func (t *task) redraw(b *Build, rooms []cabin.Response, visit func(p *bass.Prepared, drive bass.Drive)) {
	cone := stream(t.p.Seed, b.Bass.Part.SKU)
	amp := stream(t.p.Seed, b.Bass.Amplifier.SKU)
	spread := b.Bass.Amplifier.Amplifier.Spec.Spread(b.Plan.Mode)
	setup, drive := b.Setup(t.air), b.Drive()
	source := drive.Source
	var p bass.Prepared
	for k := range rooms {
		var z [9]float64
		for i := range z {
			z[i] = normal(cone)
		}
		factor := math.Exp(spread * normal(amp))
		setup.Driver = b.Bass.Driver.Vary(z)
		drive.Source.OpenVoltage = source.OpenVoltage * factor
		drive.Source.Current = source.Current * factor
		if bass.PrepareInto(&p, setup, &rooms[k]) != nil {
			// A draw at the edge of what fits a box: the build as it is.
			setup.Driver = b.Bass.Driver
			if bass.PrepareInto(&p, setup, &rooms[k]) != nil {
				visit(nil, drive)
				continue
			}
		}
		visit(&p, drive)
	}
}

// stream is the source of draws of one part, or of something else with a name.
func stream(seed uint64, name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

func normal(r *rand.Rand) float64 {
	return max(-farthestDraw, min(farthestDraw, r.NormFloat64()))
}

// halfWidth is half the distance between the tails of a sample.
func halfWidth(sample []float64) float64 {
	s := slices.Clone(sample)
	slices.Sort(s)
	at := func(q float64) float64 {
		x := q * float64(len(s)-1)
		i := int(x)
		if i+1 >= len(s) {
			return s[len(s)-1]
		}
		return s[i] + (x-float64(i))*(s[i+1]-s[i])
	}
	return (at(upperTail) - at(lowerTail)) / 2
}
