package bass_test

import (
	"fmt"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// A 12-inch driver in 27 litres, sealed, in the open, on a bridged amplifier.
func Example() {
	a := air.At(20)
	d, _, err := driver.Complete(driver.Card{
		Size: 0.3048, Coils: 1, CoilLoad: 4, Re: 3.4, Fs: 31, Qms: 5.5, Qes: 0.67,
		Vas: 0.058, Sd: 0.049, Xmax: 0.009, Power: 250,
	}, a)
	if err != nil {
		fmt.Println(err)
		return
	}
	room := cabin.OpenField(bass.Grid(), 1, a)
	p, err := bass.Prepare(bass.Setup{
		Driver: d,
		Box:    enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.027},
		Boxes:  1,
		Air:    a,
	}, &room)
	if err != nil {
		fmt.Println(err)
		return
	}
	peak := p.Loudest(bass.Drive{
		Outputs: 1, Series: 1, Parallel: 1,
		Source: amplifier.Source{OpenVoltage: 30, Resistance: 0.5, Current: 12, Efficiency: 0.6},
		Feed:   supply.Stiff(),
	}, bass.Reading())
	fmt.Printf("%.0f dB at %.0f Hz, held back by %v\n", peak.Level, peak.Hz, peak.Limit)
	fmt.Printf("%.1f ohm, %.0f W\n", peak.Load, peak.Watts)
	// Output:
	// 112 dB at 76 Hz, held back by amplifier voltage
	// 5.8 ohm, 119 W
}
