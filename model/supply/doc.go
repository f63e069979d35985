// Package supply is the electrical supply of the car as the amplifier meets
// it: alternator, battery, cable and fuse.
//
//	run := supply.Resistance(supply.AreaOfGauge(4), 5, false) // 5 m of 4 AWG copper: 8.2 mohm
//	feed := supply.Feed{
//		Volts: 14.4, Reserve: supply.Reserve(90, 30), // 24 A to spare at idle
//		BatteryVolts: 12.6, BatteryResistance: 0.010, CableResistance: run,
//	}
//	volts, amps, ok := feed.Terminal(300, 0.6) // 300 W of sound, class AB: 12.1 V, 41 A
//
// An amplifier without regulation gives the power that its supply allows, so
// a volt lost before its terminals is half a decibel lost at the seat.
//
// Limits: steady state only. The first tenths of a second, in which the
// battery's surface charge holds the voltage up, and the hour after which the
// battery is empty are both left out; capacitors at the amplifier do not
// count, because they do nothing for a tone. Resistances are those at 20 C.
// Ampacities are for single cables in free air, away from the engine. What is
// computed here is a minimum; local codes and licensed practice decide.
package supply
