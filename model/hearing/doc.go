// Package hearing says what a level does to ears.
//
//	hearing.AWeight(50)         // -30.3 dB: how little a meter set to A hears of bass
//	hearing.PermittedTime(100)  // 15 minutes a day
//	hearing.Words(15 * time.Minute) // "15 min a day"
//
// Limits: PermittedTime is an occupational limit for adults (a residual risk
// remains), meant for the A-weighted level averaged over the exposure. Deep
// bass weighs little on the A scale, yet levels such as a system for bass makes
// shake more than ears; and above ImmediateLevel no time is safe.
package hearing
