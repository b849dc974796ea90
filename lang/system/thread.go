package system

import "cagenut/lang/quantity"

// A Thread is a screw thread with which things are fixed to posts.
type Thread struct {
	Name       string          // as the language writes a tapped hole: "10-32", "m6"
	Title      string          // as the trade writes it: "10-32 UNF", "M6 x 1"
	Major      quantity.Length // diameter over the thread
	Pitch      quantity.Length // from one turn to the next
	Source     string
	Confidence Confidence
	// The moments with which screws of this thread are usually turned into a
	// cage nut or a tapped post; 0 where none is known. The kit's sheet
	// decides.
	LeastTorque, MostTorque quantity.Torque
}

var threads = []Thread{
	{
		Name: "10-32", Title: "10-32 UNF", Major: fraction(19, 100), Pitch: fraction(1, 32),
		Source: "ANSI B1.1", Confidence: Recalled,
		LeastTorque: 2300 * quantity.MillinewtonMetre, MostTorque: 3400 * quantity.MillinewtonMetre,
	},
	{
		Name: "12-24", Title: "12-24 UNC", Major: fraction(27, 125), Pitch: fractionRounded(1, 24),
		Source: "ANSI B1.1", Confidence: Recalled,
		LeastTorque: 3400 * quantity.MillinewtonMetre, MostTorque: 5100 * quantity.MillinewtonMetre,
	},
	{
		Name: "m5", Title: "M5 x 0.8", Major: 5 * quantity.Millimetre, Pitch: um(800),
		Source: "ISO 261", Confidence: Recalled,
	},
	{
		Name: "m6", Title: "M6 x 1", Major: 6 * quantity.Millimetre, Pitch: quantity.Millimetre,
		Source: "ISO 261", Confidence: Recalled,
		LeastTorque: 4000 * quantity.MillinewtonMetre, MostTorque: 6000 * quantity.MillinewtonMetre,
	},
}

// Threads lists the threads in use, as posts are tapped for them.
func Threads() []Thread { return append([]Thread(nil), threads...) }

// ThreadByName gives the thread that a tapped hole of that name has.
func ThreadByName(name string) (Thread, bool) {
	for _, t := range threads {
		if t.Name == name {
			return t, true
		}
	}
	return Thread{}, false
}

// fractionRounded is fraction for what is no whole number of nanometres, such
// as a 24th of an inch.
func fractionRounded(num, den quantity.Length) quantity.Length {
	return (num*quantity.Inch + den/2) / den
}
