package uncertainty

import (
	"context"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"sync/atomic"

	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
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

	// A stopped answer has fewer where builds are many: hurriedDraws of all together,
	// about a quarter of a second, and of each fewestDraws, whose band is on average
	// a tenth narrower.
	hurriedDraws, fewestDraws = 64 * draws, 16

	lowerTail, upperTail = 0.05, 0.95

	// farthestDraw keeps a draw among things that exist, standard deviations.
	farthestDraw = 3

	// sourceSpread is the relative standard deviation of a source's own output
	// voltage, which its supply sets (common practice, no source).
	sourceSpread = 0.05
)

// Ranking fills in the bands of all builds, and the ties with the first. When the
// context ends, it hurries and leaves none out: a level without its band is half an
// answer, and a difference without one a false tie. rough says that fewer draws were
// made than usual.
func Ranking(ctx context.Context, t *setting.Setting, builds []build.Build) (rough bool, err error) {
	all := make([]*build.Build, len(builds))
	for i := range builds {
		all[i] = &builds[i]
	}
	samples, rough, err := samples(ctx, t, all)
	if err != nil {
		return false, err
	}
	for i := 1; i < len(builds); i++ {
		b := &builds[i]
		b.Difference = Apart((build.Round(b.Objective) - build.Round(builds[0].Objective)).DB(), samples[i], samples[0])
		b.Tie = b.Difference.Tie()
	}
	return rough, nil
}

// samples fills in the bands of builds, and gives their objectives for every
// draw, which are the same draws for all of them, as far as each was drawn.
func samples(ctx context.Context, t *setting.Setting, builds []*build.Build) (_ [][]float64, rough bool, err error) {
	if len(builds) == 0 {
		return nil, false, nil
	}
	rooms, err := Rooms(t)
	if err != nil {
		return nil, false, err
	}
	few := min(draws, max(fewestDraws, hurriedDraws/len(builds)))
	var fewer atomic.Bool
	all := make([][]float64, len(builds))
	parallel.Each(t.Workers(), len(builds), func(i int) {
		own := rooms
		if few < draws && ctx.Err() != nil {
			own = rooms[:few]
			fewer.Store(true)
		}
		s := Scatter(t, builds[i], own)
		s.Fill(builds[i])
		all[i] = s.Objective(t.Music())
	})
	return all, fewer.Load(), nil
}

// Apart is a difference of so many dB with what two samples of the same draws say
// of it, as far as both go.
func Apart(db float64, a, b []float64) build.Difference {
	difference := make([]float64, min(len(a), len(b)))
	agree := 0.0
	for k := range difference {
		difference[k] = a[k] - b[k]
		switch same := difference[k] * db; {
		case same > 0:
			agree++
		case same == 0:
			agree += 0.5 // neither way
		}
	}
	return build.Difference{DB: db, Band: HalfWidth(difference), Chance: agree / float64(len(difference))}
}

// Rooms are the draws of the car.
func Rooms(t *setting.Setting) ([]cabin.Response, error) {
	if t.Open {
		rooms := make([]cabin.Response, draws)
		for i := range rooms {
			rooms[i] = *t.Room
		}
		return rooms, nil
	}
	return t.Car.Draw(draws, t.Problem.Seed)
}

// Sample is a build's levels in every draw, dB.
type Sample struct{ Reading, Music, bass, Front []float64 }

// Objective are those that the goal ranks by.
func (s *Sample) Objective(music bool) []float64 {
	if music {
		return s.Music
	}
	return s.Reading
}

// Fill gives the build the bands of its levels.
func (s *Sample) Fill(b *build.Build) {
	b.Reading.Band, b.Music.Band, b.Music.BassBand = HalfWidth(s.Reading), HalfWidth(s.Music), HalfWidth(s.bass)
	if b.Front.Power != build.FromNothing {
		b.Front.Band = HalfWidth(s.Front)
	}
}

// Scatter is the build in every draw.
func Scatter(t *setting.Setting, b *build.Build, rooms []cabin.Response) *Sample {
	s := &Sample{Front: ScatterFront(t, b, len(rooms))}
	Redraw(t, b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		reading, deep := b.Reading.DB, b.Music.Bass
		if p != nil {
			reading, deep = p.Loudest(drive, t.Reading).Level, bass.MusicLevel(p, drive)
		}
		m := deep - t.Brief.BassLift
		if b.Front.Power != build.FromNothing {
			m = min(m, s.Front[len(s.Music)])
		}
		s.Reading, s.bass, s.Music = append(s.Reading, reading), append(s.bass, deep), append(s.Music, m)
	})
	return s
}

// Spread is the half width of the band of each of some figures of a build, over all
// draws.
func Spread(t *setting.Setting, b *build.Build, rooms []cabin.Response, figures func(p *bass.Prepared, drive bass.Drive) []float64) (bands []float64) {
	var samples [][]float64
	Redraw(t, b, rooms, func(p *bass.Prepared, drive bass.Drive) {
		if p == nil {
			return
		}
		all := figures(p, drive)
		if samples == nil {
			samples = make([][]float64, len(all))
		}
		for i, x := range all {
			samples[i] = append(samples[i], x)
		}
	})
	for _, s := range samples {
		bands = append(bands, HalfWidth(s))
	}
	return bands
}

// ScatterFront is the level of the front in every draw. Pair and power have
// their draws by SKU, the cabin at middle frequencies has one for all builds.
func ScatterFront(t *setting.Setting, b *build.Build, draws int) []float64 {
	levels := make([]float64, draws)
	pair, room, power := "", stream(t.Problem.Seed, "the cabin of the front"), stream(t.Problem.Seed, "")
	if b.Front.Part != nil {
		pair = b.Front.Part.SKU
	}
	speakers := stream(t.Problem.Seed, "front "+pair)
	spread := sourceSpread
	if amp := b.Front.Amplifier; amp != nil {
		spread, power = amp.Amplifier.Spec.Spread(amplifier.Stereo), stream(t.Problem.Seed, amp.SKU)
	} else if b.Front.Source != nil {
		power = stream(t.Problem.Seed, b.Front.Source.SKU)
	}
	for k := range levels {
		var z [5]float64
		for i := range z {
			z[i] = normal(speakers)
		}
		stage := b.Front.Stage.Vary(z)
		stage.Watts *= math.Exp(2 * spread * normal(power)) // volts squared
		levels[k], _, _ = stage.Play(t.Cabin.Vary([2]float64{normal(room), normal(room)}))
	}
	return levels
}

// Redraw shows the build as it is in every draw: its box in that car, and what
// drives it. p is nil for a draw at the edge, which fits no box.
func Redraw(t *setting.Setting, b *build.Build, rooms []cabin.Response, visit func(p *bass.Prepared, drive bass.Drive)) {
	cone, large := stream(t.Problem.Seed, b.Bass.Part.SKU), stream(t.Problem.Seed, "large signals of "+b.Bass.Part.SKU)
	box := stream(t.Problem.Seed, "losses of "+b.Bass.Boxed().SKU)
	amp := stream(t.Problem.Seed, b.Bass.Amplifier.SKU)
	spread := b.Bass.Amplifier.Amplifier.Spec.Spread(b.Plan.Mode)
	setup, drive := b.Setup(t.Air), b.Drive()
	source := drive.Source
	var p bass.Prepared
	for k := range rooms {
		var z [9]float64
		for i := range z {
			z[i] = normal(cone)
		}
		factor := math.Exp(spread * normal(amp))
		setup.Driver = b.Bass.Driver.Vary(z).VaryLarge([2]float64{normal(large), normal(large)})
		setup.Box = b.Bass.Box.Leaking([2]float64{normal(box), normal(box)})
		drive.Source.OpenVoltage = source.OpenVoltage * factor
		drive.Source.Current = source.Current * factor
		if bass.PrepareInto(&p, setup, &rooms[k]) != nil {
			// A draw at the edge of what fits a box: the build as it is.
			setup.Driver, setup.Box = b.Bass.Driver, b.Bass.Box
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

// HalfWidth is half the distance between the tails of a sample.
func HalfWidth(sample []float64) float64 {
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
