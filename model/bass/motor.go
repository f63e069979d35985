package bass

import "loudfor/model/driver"

// Motor and suspension at large travel. For a travel x = X cos(wt) with
// u = X/Xmax, package driver gives Bl(x) = Bl (1 - d (x/Xmax)^2) and
// K(x) = K (1 + k (x/Xmax)^2), d = 0.18, k = 1/3. Only the part of each force
// and voltage at the frequency of the tone matters to the level; it is
//
//	stiffness        K(x) x                    -> K X (1 + 3/4 k u^2) cos
//	current in phase with the travel, i cos:    force -> Bl i (1 - 3/4 d u^2) cos
//	current in quadrature, -i sin:              force -> Bl i (1 - 1/4 d u^2) (-sin)
//	velocity v = -wX sin:                       EMF   -> Bl wX (1 - 1/4 d u^2) (-sin)
//
// for the mean of 2 cos^2 cos^2 is 3/4 and that of 2 sin^2 cos^2 is 1/4. Force
// and EMF of the quadrature current have the same factor, so that electrical
// power into the motion equals mechanical power: EMF i = force v. A driver
// whose tone sits away from rest, and harmonics of the current, are left out.
//
// Losses grow linearly with travel, Rms (1 + g u), already an equivalent
// resistance for the tone.
//
// The search does not go beyond MostOverdrive, where the laws end, which lets them be
// written as plain polynomials.

const (
	// mostTravel is the end of the search, in Xmax: the first point of the
	// lattice beyond MostOverdrive.
	levels     = 16
	levelStep  = MostOverdrive / (levels - 1)
	mostTravel = levels * levelStep

	stiffnessSquare = driver.StiffnessGrowth * 3 / 4 // of u^2
	travelSquare    = driver.ForceFactorDrop * 3 / 4 // of u^2, for current in phase with travel
	motionSquare    = driver.ForceFactorDrop / 4     // of u^2, for current in phase with velocity
)
