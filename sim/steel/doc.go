// Package steel holds what is known of each steel and metal, with its source:
// density, heat, conductivity, emissivity, melting, strength at heat and the
// colours of heat.
//
// # What it models
//
// Heat is a specific enthalpy in two parts. Base grows steadily with
// temperature and carries everything reversible, the magnetic peak at 770 C
// included. Latent is the heat of turning into austenite; it is taken up along
// OnHeating, near Ac1 to Ac3, and given back along OnCooling, about 100 K
// lower, where bare steel was measured to stall. Nickel, copper and 18-8
// stainless have one curve and no Latent; so has "EN 1993-1-2 carbon steel",
// which is exactly what the standard publishes: one reversible curve with its
// peak at 735 C.
//
// Plain and low-alloy steels are mixed from pure iron (SGTE description) and
// 0.8 %C steel (measured mean heat capacities) by their carbon. Strength at
// heat is Shida's law for steels and iron's austenite, creep of the pure metal
// for ferrite, nickel and copper. Mild steel and iron become weaker, not
// stronger, on cooling through the change to ferrite; the law keeps that.
//
// # What it leaves out
//
//   - rates: the transformation follows temperature alone. Its place on cooling
//     is that of air cooling in a bar; thin or alloyed steel transforms lower,
//     or hardens.
//   - the smaller heat of a transformation that happens at a lower temperature:
//     Base and Latent are the same up and down.
//   - melting. Curves go on as solid above the solidus; BurnLimit says when.
//   - grain size and softening by recrystallisation: a law of flow stress knows
//     strain, rate and temperature only, and nothing of earlier passes.
//   - direction: wrought iron has one conductivity and one strength.
//
// # Conventions
//
// SI and kelvin; composition in wt %. Enthalpy is zero at 20 C. Curves carry
// knots from -40 to 1550 C where they are computed and are held at their ends.
// Every number of a material is listed in Facts with source and status, and
// what was assumed stands in Assumed.
package steel
