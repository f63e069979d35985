package driver

import "math"

// What is assumed of a driver about which a card says nothing: one table, by
// size class, for car subwoofers. Every figure is *common practice, no
// source*: the middle of what such drivers show. The spreads are wide on
// purpose and travel with each assumed value to the output.
//
// A missing Vas is that of the typical moving mass at the fs and Sd at hand:
// a 12-inch driver of 45 Hz has a stiffer suspension, not a lighter cone.
//
// The table is internally sound: its cone masses (81, 123, 166, 246, 382 g)
// and compliances (0.11 to 0.20 mm/N) follow from fs, Vas and Sd and are those
// of real cones.

const inch = 0.0254 // m, exactly

// prior is the typical driver of one nominal size, SI units.
type prior struct {
	size     float64
	piston   float64 // effective piston diameter over nominal diameter
	fs       float64
	qms, qts float64
	vas      float64
	xmax     float64
	power    float64
	coilTime float64 // Le/Re, s: both grow with the turns squared, so the load drops out
	heatTime float64 // s
}

var priors = [...]prior{
	//  size       piston fs  Qms  Qts   Vas    Xmax   Power Le/Re    heat
	{8 * inch, 0.80, 40, 5.5, 0.60, 0.012, 0.007, 150, 0.35e-3, 8},
	{10 * inch, 0.81, 34, 5.5, 0.57, 0.028, 0.009, 200, 0.45e-3, 10},
	{12 * inch, 0.82, 30, 5.5, 0.55, 0.058, 0.010, 250, 0.55e-3, 14},
	{15 * inch, 0.84, 26, 5.5, 0.52, 0.140, 0.012, 350, 0.65e-3, 18},
	{18 * inch, 0.85, 24, 5.5, 0.50, 0.230, 0.014, 500, 0.75e-3, 22},
}

const (
	// resistanceShare is Re over the nominal load of a coil. IEC 60268-5 lets
	// the impedance fall to 0.8 of nominal; coils sit at or a little above
	// that (common practice, no source).
	resistanceShare = 0.85

	// commonCoilLoad, ohm, and commonCoils are taken when a card gives no
	// word of its coils (common practice, no source).
	commonCoilLoad = 4.0
	commonCoils    = 1

	priorSource = "typical of its size (common practice, no source)"
)

// priorSpread is the relative standard deviation of each assumed value. That
// of Vas is what is left once fs and Sd are known (see Spread).
var priorSpread = Spread{
	Re: 0.08, Le: 0.5, Fs: 0.15, Qms: 0.35, Qes: 0.20, Vas: 0.25, Sd: 0.04,
	Xmax: 0.30, Power: 0.40,
}

// qtsPriorSpread belongs to an assumed Qts, which Spread has no field for.
const qtsPriorSpread = 0.20

// statedSpread is how far a driver off the shelf lies from its own card:
// production tolerance, different test methods, break-in, and rounding
// (common practice, no source).
var statedSpread = [quantities]float64{
	sd: 0.03, re: 0.05, fs: 0.10, qes: 0.08, qms: 0.15, qts: 0.08, vas: 0.10,
	mms: 0.05, bl: 0.05, cms: 0.15, eta: 0.25,
}

const (
	statedLeSpread    = 0.20
	statedXmaxSpread  = 0.15
	statedPowerSpread = 0.20

	mostSpread = 0.6 // a log-normal wider than this says nothing any more
)

// priorAt interpolates the table: straight lines in the logarithms of size and
// value, so that between two sizes everything goes smoothly from one to the
// other, and on with the last slope outside the table.
func priorAt(size float64) prior {
	i := 0
	for i < len(priors)-2 && size > priors[i+1].size {
		i++
	}
	a, b := &priors[i], &priors[i+1]
	t := math.Log(size/a.size) / math.Log(b.size/a.size)
	mix := func(x, y float64) float64 { return x * math.Pow(y/x, t) }
	return prior{
		size:     size,
		piston:   math.Min(mix(a.piston, b.piston), 0.9),
		fs:       mix(a.fs, b.fs),
		qms:      mix(a.qms, b.qms),
		qts:      mix(a.qts, b.qts),
		vas:      mix(a.vas, b.vas),
		xmax:     mix(a.xmax, b.xmax),
		power:    mix(a.power, b.power),
		coilTime: mix(a.coilTime, b.coilTime),
		heatTime: mix(a.heatTime, b.heatTime),
	}
}

// pistonArea is the piston area of a nominal size.
func (p prior) pistonArea() float64 {
	r := p.piston * p.size / 2
	return math.Pi * r * r
}

// sizeOfPiston is the nominal size whose typical piston has that area: the
// inverse of pistonArea, by fixed point (the piston ratio hardly depends on
// the size, so three rounds give eight digits).
func sizeOfPiston(area float64) float64 {
	diameter := 2 * math.Sqrt(area/math.Pi)
	size := diameter / 0.82
	for range 8 {
		size = diameter / priorAt(size).piston
	}
	return size
}

// nominalLoads are the loads of single coils in the trade, ohm.
var nominalLoads = [...]float64{0.5, 1, 2, 4, 6, 8, 16}

// loadOfResistance is the nominal load nearest, in ratio, to what a coil of
// that resistance would be sold as.
func loadOfResistance(resistance float64) float64 {
	want := resistance / resistanceShare
	best := nominalLoads[0]
	for _, load := range nominalLoads {
		if math.Abs(math.Log(load/want)) < math.Abs(math.Log(best/want)) {
			best = load
		}
	}
	return best
}
