// Package learning holds what the meters showed in a car against what was
// predicted, says what the difference means, and learns the car from it.
//
//	study, err := learning.NewStudy(vehicle.Body, celsius, cases, readings)
//	fit, err := study.Fit()                  // the car that explains the readings
//	vehicle.Body.Learned = fit.Learned()     // every later prediction is of that car
//	guess, err := fit.Predict([]learning.Setting{{Place: "dash", Openings: "shut", Hz: 40}})
//	fmt.Printf("%.1f +/- %.1f dB", guess[0].DB, guess[0].Band())
//
// # How it learns
//
// Everything uncertain about the car, the driver, the box and the amplifier is
// a number in standard deviations: zero is what was stated or assumed, one is
// an ordinary error (package cabin's Spread, package driver's Spread ...).
// Learning is least squares: the numbers x that make
//
//	sum rho((measured - predicted(x)) / tolerance) + |x|^2
//
// smallest, solved by Gauss and Newton's steps with a fresh linearisation at
// each. The second sum is the prior: what the readings do not decide stays
// where it was, and with few readings nothing runs away. rho is Huber's: a
// reading that fits nothing pulls with a bounded force, and is named. The
// linearisation at the end gives the covariance, and from it what was
// determined, by what, and how well any other reading in the car can now be
// foretold.
//
// What the walls lose has three unknowns: the Q of the first mode, the power of
// frequency that the walls' admittance goes with, and what the pressure zone
// loses besides. Readings from 20 Hz shut, and with the doors open, tell them
// apart; those above 40 Hz alone hardly do.
//
// # How it is kept honest
//
// Each reading in turn is left out and foretold by the others. Where these
// errors are larger than they should be, the car differs from the model by
// more than the spreads allow for, and all bands in it are widened by as much, and
// by what is not known of that from so few errors (Student's t); they are never
// narrowed by luck. Readings that are repeats of each other are
// left out together.
//
// # Limits
//
// The posterior is Gaussian, from one linearisation. The meter's error is
// independent from reading to reading; that of the meter itself goes into the
// level of the car. The smooth error of the car is the same at all places and
// with all openings. Readings are taken as steady tones at full output, or at
// the stated clamp voltage.
//
// Sources: A. Tarantola, Inverse Problem Theory (least squares with priors);
// P. Huber, Robust Statistics (the loss); leave-one-out in closed form is
// common in regression (D. Cook and S. Weisberg, Residuals and Influence), all
// from memory.
package learning
