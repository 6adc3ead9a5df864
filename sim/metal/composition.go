package metal

import "billet/sim/steel"

const (
	zeroC = 273.15 // K at 0 C
	gasR  = 8.314  // J/mol K
)

// Composition is what a steel holds beside iron, wt %.
type Composition struct {
	C, Mn, Si, P, S, Ni, Cr, Mo, V, W, Cu float64
}

// Of is the composition of a material.
func Of(m steel.Material) Composition {
	c := Composition{C: m.Carbon}
	for _, e := range m.Composition {
		switch e.Symbol {
		case "C":
			c.C = e.Percent
		case "Mn":
			c.Mn = e.Percent
		case "Si":
			c.Si = e.Percent
		case "P":
			c.P = e.Percent
		case "S":
			c.S = e.Percent
		case "Ni":
			c.Ni = e.Percent
		case "Cr":
			c.Cr = e.Percent
		case "Mo":
			c.Mo = e.Percent
		case "V":
			c.V = e.Percent
		case "W":
			c.W = e.Percent
		case "Cu":
			c.Cu = e.Percent
		}
	}
	if m.Carbon > 0 {
		c.C = m.Carbon
	}
	return c
}

// With is the composition with another carbon, wt %: what is left at the edge
// after the carbon has moved.
func (c Composition) With(carbon float64) Composition {
	c.C = carbon
	return c
}

// kind is how a layer holds carbon.
type kind int

const (
	plain      kind = iota // plain and low-alloy steel, iron
	chromium               // 5 to 30 % chromium, turns austenite when hot
	austenitic             // chromium-nickel steel, austenite at every heat
	nickel                 // commercially pure nickel
	barrier                // copper: dissolves no carbon worth counting
)

// kindOf sorts a material by name and analysis. The limits are chosen so that
// no listed grade lies near one.
func kindOf(m steel.Material, c Composition) kind {
	switch {
	case c.Ni > 50 || m.Name == "nickel":
		return nickel
	case c.Cu > 50 || m.Name == "copper":
		return barrier
	case c.Cr >= 10 && c.Ni >= 6:
		return austenitic
	case c.Cr >= 5:
		return chromium
	}
	return plain
}
