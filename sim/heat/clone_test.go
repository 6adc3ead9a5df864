package heat

import "testing"

// What is done to a clone gives what it gives on the original, to the bit, and
// leaves the original as it was.
func TestCloneStandsApart(t *testing.T) {
	b := Body{Layers: []Layer{{Material: lookup(t, "1018"), Thickness: 0.01}, {Material: lookup(t, "1084"), Thickness: 0.006, Joint: Joint{State: Ground}}},
		Width: 0.04, Length: 0.1, CoreAt: 0.013, Dims: 2}
	fire, air := Surroundings{}, Surroundings{}
	for i := range fire {
		fire[i] = Surround{Wall: Constant(1523), Gas: Constant(1523), Film: 30, Emissivity: 0.8}
		air[i] = Surround{Wall: Constant(293), Gas: Constant(293), Film: 10, Emissivity: 0.8}
	}
	f, err := New(b, 293, Options{Accuracy: 2})
	if err != nil {
		t.Fatal(err)
	}
	run := func(f *Field, s Surroundings, seconds float64) {
		t.Helper()
		if _, err := f.Run(Stage{In: s, End: End{Timed: true, Time: seconds}}, nil); err != nil {
			t.Fatal(err)
		}
	}
	work := func(f *Field) Map {
		t.Helper()
		run(f, air, 5)
		if err := f.Reshape([]float64{0.8, 0.8}, 1, 1/0.8); err != nil {
			t.Fatal(err)
		}
		f.SetJoint(1, Joint{State: Welded})
		f.AddHeat([]float64{1e7, 2e7})
		run(f, fire, 20)
		return f.Map()
	}
	run(f, fire, 400)
	before := f.Map()
	c := f.Clone()
	same := func(a, b Map, what string) {
		t.Helper()
		for k := range a.T {
			for i := range a.T[k] {
				if a.T[k][i] != b.T[k][i] {
					t.Fatalf("%s: %v K and %v K", what, a.T[k][i], b.T[k][i])
				}
			}
		}
	}
	same(before, c.Map(), "clone as made")
	onClone := work(c)
	same(before, f.Map(), "original after work on its clone")
	same(onClone, work(f), "the same work on both")
}
