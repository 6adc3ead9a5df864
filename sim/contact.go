package sim

// Heat from the bar into what it touches, W/m2K. Both are from memory: the
// ranges are those of Semiatin, Collings, Wood and Altan, J. Eng. Ind. 109
// (1987) 49 (hot forging, 7.5 kW/m2K near 14 MPa and up to 20 above), and 200
// to 1000 for a scaled bar lying unloaded.
const (
	restConductance = 500.0   // lying on the lower die, no load
	loadConductance = 1500.0  // under load, at no pressure
	loadPerPascal   = 400e-6  // W/m2K per Pa
	loadMost        = 20000.0 // W/m2K
)

// pressed is the conductance between die and bar under a pressure, Pa.
func pressed(pressurePa float64) float64 {
	return min(loadMost, loadConductance+loadPerPascal*pressurePa)
}

// workHeat is the share of the plastic work that becomes heat (from memory of
// textbooks: 0.9 to 0.95).
const workHeat = 0.95

// between is the time a smith takes from one bite to the next, s: open, move,
// close. Common practice, no source.
const between = 1.0

// backToRolls is the time from one pass through a two-high mill to the next, s:
// the bar is carried back to the front. Common practice, no source.
const backToRolls = 3.0
