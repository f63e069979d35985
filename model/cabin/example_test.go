package cabin_test

import (
	"fmt"
	"math/cmplx"

	"loudfor/model/air"
	"loudfor/model/cabin"
)

func ExampleBody_Respond() {
	car, _ := cabin.BodyNamed("small sedan")
	hz := []float64{30, 40, 50}
	shut, err := car.Respond(hz, "dash", "shut", 20)
	if err != nil {
		fmt.Println(err)
		return
	}
	open := cabin.OpenField(hz, 1, air.At(20))
	for i, f := range hz {
		gain := air.Level(cmplx.Abs(shut.Transfer[i])) - air.Level(cmplx.Abs(open.Transfer[i]))
		fmt.Printf("%g Hz: %.0f dB above the open field at 1 m\n", f, gain)
	}
	// Output:
	// 30 Hz: 17 dB above the open field at 1 m
	// 40 Hz: 14 dB above the open field at 1 m
	// 50 Hz: 13 dB above the open field at 1 m
}

func ExampleBody_Respond_unknown() {
	car, _ := cabin.BodyNamed("van")
	_, err := car.Respond([]float64{40}, "roof rack", "shut", 20)
	fmt.Println(err)
	// Output:
	// place "roof rack" is not one of the van's: dash, kick panel, headrest
}
