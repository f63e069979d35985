package driver

// Large travel. Xmax marks the travel at which a driver makes about 10 %
// distortion; there the force factor has fallen to 82 % and the compliance to
// 75 % of their values at rest (thresholds of the 10 % criterion used with IEC
// 62458; from memory). Symmetric quadratic laws through those points are the
// simplest ones that are right at rest and at Xmax:
//
//	Bl(x) = Bl (1 - 0.18 u^2),   K(x) = K (1 + u^2/3),   u = x/Xmax
//
// For a tone of peak travel u the part at the frequency of the tone is what
// counts (describing function): averaging the laws over a cycle gives the
// first-harmonic factors of package bass. They fall or rise strictly with u, so a
// level computed from them can be monotone in voltage.

const (
	// ForceFactorDrop is the relative loss of Bl at Xmax.
	ForceFactorDrop = 0.18
	// StiffnessGrowth is the relative growth of the stiffness at Xmax: 1/0.75 - 1.
	StiffnessGrowth = 1.0 / 3
	// LossGrowth is the growth of the mechanical resistance at a peak travel
	// of Xmax relative to rest. Cards state Qms at millivolts; suspensions
	// driven hard lose more in the spider's fibres, in the air forced through
	// the gap and in the surround. A doubling at Xmax, linear in the travel,
	// is an engineering estimate (common practice, no source); reported
	// values scatter widely and some suspensions show no growth at all.
	LossGrowth = 1.0
	// LossGrowthSpread is the relative standard deviation of LossGrowth (VaryLarge).
	LossGrowthSpread = 0.5

	// TravelModelled is the largest u for which the laws mean anything.
	// Beyond it, cones hit back plates and surrounds run out.
	TravelModelled = 1.8
)

// LossGrowth is that of this driver.
func (d *Driver) LossGrowth() float64 { return LossGrowth * (1 + d.MoreLoss) }
