package driver

import "math"

// Another driver off the same shelf. Each parameter moves by its own number of
// standard deviations, log-normally, so that nothing turns negative; the rest
// is rebuilt from the identities, so that what comes out is again a driver.

// Vary is the driver with its parameters moved by z standard deviations, in
// the order of Spread's fields: Re, Le, Fs, Qms, Qes, Vas, Sd, Xmax, Power.
// It moves them as the metal would: a higher fs is a stiffer suspension and
// takes Vas along, a larger piston raises Vas at the same compliance, and
// Vas's own z moves what is left, the mass of the cone. Vary of all zeros is
// the driver itself, and moves in z and in -z cancel.
func (d Driver) Vary(z [9]float64) Driver {
	s := d.Spread
	re := math.Exp(z[0] * s.Re)
	le := math.Exp(z[1] * s.Le)
	fs := math.Exp(z[2] * s.Fs)
	mass := math.Exp(-z[5] * s.Vas)
	sd := math.Exp(z[6] * s.Sd)
	compliance := 1 / (fs * fs * mass)

	v := d
	v.Re *= re
	v.Le *= le
	v.L2 *= le
	v.R2 *= le
	v.Fs *= fs
	v.Qms *= math.Exp(z[3] * s.Qms)
	v.Qes *= math.Exp(z[4] * s.Qes)
	v.Sd *= sd
	v.Xmax *= math.Exp(z[7] * s.Xmax)
	v.Power *= math.Exp(z[8] * s.Power)

	v.Mms *= mass
	v.Cms *= compliance
	v.Vas *= compliance * sd * sd
	// From here as ratios of the identities, so that no air is needed and all
	// zeros change nothing, not even the last bit.
	v.Bl *= math.Sqrt(fs * mass * re / (v.Qes / d.Qes))
	v.Rms *= fs * mass / (v.Qms / d.Qms)
	if v.Qms != d.Qms || v.Qes != d.Qes {
		v.Qts = v.Qms * v.Qes / (v.Qms + v.Qes)
	}
	return v
}

// VaryLarge is the driver with what no card states of it at large signals, the
// growth of its losses and the time of its heating, moved by z standard deviations.
func (d Driver) VaryLarge(z [2]float64) Driver {
	d.MoreLoss = (1+d.MoreLoss)*math.Exp(z[0]*LossGrowthSpread) - 1
	d.MoreHeatTime = (1+d.MoreHeatTime)*math.Exp(z[1]*HeatTimeSpread) - 1
	return d
}
