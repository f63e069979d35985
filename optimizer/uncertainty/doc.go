// Package uncertainty tells how far a prediction may be off: Monte Carlo draws
// of everything that is uncertain about the car and the parts, from which come
// the bands of levels, of the difference of two builds and of the rises of a
// ladder, and what meters will show at other places of the car. It is handed
// builds that are finished, and knows nothing of how they were found.
package uncertainty
