package supply_test

import (
	"fmt"

	"loudfor/model/supply"
)

func ExampleFeed_Terminal() {
	run := supply.Resistance(supply.AreaOfGauge(4), 5, false)
	feed := supply.Feed{
		Volts: supply.RunningVolts, Reserve: supply.Reserve(90, 30),
		BatteryVolts: supply.RestedVolts, BatteryResistance: supply.TypicalBatteryResistance,
		CableResistance: run,
	}
	volts, amps, ok := feed.Terminal(300, 0.6)
	fmt.Printf("%.1f mohm: %.1f V, %.0f A, %v\n", run*1e3, volts, amps, ok)
	// Output: 8.2 mohm: 12.1 V, 41 A, true
}

func ExampleKit_Carries() {
	kit := supply.Kit{Area: supply.AreaOfGauge(8), Length: 5, CopperClad: true, Fuse: 60}
	v := kit.Carries(supply.Demand(300, 0.6), 30)
	fmt.Println(v.OK, v.Reasons)
	// Output: false [the kit's 60 A fuse does not protect a cable for 52 A: at most 50 A]
}
