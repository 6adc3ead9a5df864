package metal_test

import (
	"fmt"

	"billet/sim/metal"
	"billet/sim/steel"
)

// Ten minutes of welding heat through mild jackets and a core of 0.8 % carbon.
func ExampleNewCarbon() {
	mild, _ := steel.Lookup("1018")
	core, _ := steel.Lookup("1084")
	c, err := metal.NewCarbon([]metal.Layer{
		{Material: mild, Thickness: 0.010}, {Material: core, Thickness: 0.008}, {Material: mild, Thickness: 0.010},
	}, metal.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	neutral, _ := metal.AtmosphereByName("neutral")
	c.Faces(neutral, neutral)
	skinB, skinA := metal.NewSkin(mild), metal.NewSkin(mild)
	heat := metal.History{{Time: 0, TempK: []float64{293}}, {Time: 600, TempK: []float64{1423}}, {Time: 1200, TempK: []float64{1423}}}
	if err := metal.Burn(c, skinB, skinA, heat); err != nil {
		fmt.Println(err)
		return
	}
	width, _, _ := c.TransitionWidth(0)
	fmt.Printf("middle of the core %.2f %%, transition %.1f mm, scale has taken %.2f mm a side\n",
		c.InLayer(1, 0.5), 1000*width, 1000*skinA.Recession())
	// Output: middle of the core 0.84 %, transition 1.1 mm, scale has taken 0.03 mm a side
}
