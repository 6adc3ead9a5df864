package steel_test

import (
	"fmt"

	"billet/sim/steel"
)

func Example() {
	core, err := steel.Lookup("1084")
	if err != nil {
		fmt.Println(err)
		return
	}
	const hot = 1150 + 273.15 // K
	pa, inRange := core.FlowStress(0.2, 1, hot)
	fmt.Println(core.Title)
	fmt.Printf("heat to 1150 C: %.0f kJ/kg\n", core.Enthalpy(hot, true)/1e3)
	fmt.Printf("strength there: %.0f MPa, within the law's range: %v\n", pa/1e6, inRange)
	fmt.Printf("looks %s\n", steel.ColourAt(hot))
	// Output:
	// 1084 plain carbon steel, 0.84 %C
	// heat to 1150 C: 788 kJ/kg
	// strength there: 62 MPa, within the law's range: true
	// looks yellow
}
