package hookup

// Network is a series/parallel tree whose leaves are voice coils: what a
// wiring diagram is drawn from.
type Network struct {
	Joint  Joint
	Driver int // of a Coil, from 0
	Coil   int // of a Coil, from 0, within its driver
	Parts  []Network
}

// Joint is how the parts of a Network are connected.
type Joint int

const (
	Coil     Joint = iota // a leaf
	Series                // one after the other
	Parallel              // side by side
)

func (j Joint) String() string {
	if j < Coil || j > Parallel {
		return "unknown joint"
	}
	return [...]string{"coil", "in series", "in parallel"}[j]
}

// Networks draws the plan: one network for each output, drivers and coils
// numbered so that neighbours are wired together. A joint of one part is left
// out. Inside a driver, strings of coils in series lie side by side; so do the
// drivers.
func (p Plan) Networks() []Network {
	all := make([]Network, 0, p.Outputs)
	if p.Split == 0 {
		return all
	}
	inner := p.InnerSeries * p.InnerParallel
	for output := range p.Outputs {
		group, share := output/p.Split, output%p.Split
		unit := func(i int) Network {
			driver := group*p.units() + i
			return grid(p.InnerSeries, p.InnerParallel, func(j int) Network {
				return Network{Joint: Coil, Driver: driver, Coil: share*inner + j}
			})
		}
		all = append(all, grid(p.outerSeries(), p.outerParallel(), unit))
	}
	return all
}

// grid is parallel strings of series parts.
func grid(series, parallel int, part func(int) Network) Network {
	strings := make([]Network, parallel)
	for i := range strings {
		chain := make([]Network, series)
		for j := range chain {
			chain[j] = part(i*series + j)
		}
		strings[i] = join(Series, chain)
	}
	return join(Parallel, strings)
}

func join(joint Joint, parts []Network) Network {
	if len(parts) == 1 {
		return parts[0]
	}
	return Network{Joint: joint, Parts: parts}
}

// Load is that of the network, ohm, when every coil has coilLoad ohm, which
// must be positive.
func (n Network) Load(coilLoad float64) float64 {
	sum := 0.0
	switch n.Joint {
	case Series:
		for _, part := range n.Parts {
			sum += part.Load(coilLoad)
		}
		return sum
	case Parallel:
		for _, part := range n.Parts {
			sum += 1 / part.Load(coilLoad)
		}
		return 1 / sum
	}
	return coilLoad
}

// Walk calls visit for every coil of the network, in the order of the drawing.
func (n Network) Walk(visit func(driver, coil int)) {
	if n.Joint == Coil {
		visit(n.Driver, n.Coil)
		return
	}
	for _, part := range n.Parts {
		part.Walk(visit)
	}
}
