package blade_test

import (
	"fmt"

	"billet/sim/blade"
)

// A hunter's blade from a bar 6 mm thick whose core lies 0.1 mm toward A.
func ExampleCut() {
	bar := blade.Even(0.040, 0.140, []float64{2.5e-3, 1.2e-3, 2.3e-3}, 1)
	b := blade.Blade{Spine: 4e-3, TipSpine: 4e-3, Height: 28e-3, Length: 0.1, Edge: 0.5e-3,
		Grind: blade.Grind{Kind: blade.Flat, Height: 28e-3}}
	a, err := blade.Cut(bar, b, bar.Middle(b.Length, 3e-3, true), blade.Ask{Clean: 0.4e-3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("core line: A %.1f mm, B %.1f mm\n", *a.Mid.A.CoreLine*1e3, *a.Mid.B.CoreLine*1e3)
	fmt.Printf("edge in the core: %v, by %.2f mm on B\n", a.InCore, a.Mid.MarginB*1e3)
	r := a.Rescue[blade.Shifted]
	fmt.Printf("%v: %.1f mm toward A, needs %.1f mm of bar instead of %.1f mm\n", r.Move, r.Shift*1e3, r.Needs*1e3, *a.Least.Pits*1e3)
	// Output:
	// core line: A 7.2 mm, B 4.0 mm
	// edge in the core: true, by 0.25 mm on B
	// shift the grind: 0.1 mm toward A, needs 5.0 mm of bar instead of 4.8 mm
}
