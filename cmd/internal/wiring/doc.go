// Package wiring draws what is connected to what: the coils on the outputs of
// an amplifier, and the way from the source and the battery to the loads.
//
//	d := wiring.Coils(plan, wiring.Amplifier{Title: "KE-M3, mono", Outputs: []string{"mono output"}})
//	os.Stdout.WriteString(d.Text())  // for a terminal
//	picture := d.SVG()               // for a page or a print
//
// Both forms show one and the same layout: terminals of the amplifier on the
// left, of the coils on the right, and between them a channel of upright
// tracks, one for each net. Every terminal has a row of its own, so two level
// wires never meet; nets whose rows are apart share a track (the left-edge
// rule: A. Hashimoto and J. Stevens, Wire routing by optimizing channel
// assignment within large apertures, 1971; from memory). So any number of
// drivers and coils is drawn without a wire on top of another, and a series
// chain takes no more width than a pair.
//
// What is drawn can be read back: Terminals, Segments and Contacts are the
// drawing, and a test walks them as a circuit and solves it.
//
// Colour never tells anything alone: what leads to the plus side is a heavy
// line, what leads to the minus side a dashed one, links between coils are
// dotted. Limits: wires are drawn as nets, not as cut lengths; where the tee
// of a net lies in the car is for the installer to choose.
package wiring
