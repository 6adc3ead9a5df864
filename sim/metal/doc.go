// Package metal is what the fire does to the metal: where the carbon goes, what
// scale eats, how the grain grows; and what quench and temper then make of it.
//
// # What it models
//
// Carbon moves through a stack of layers down its activity, by conservative
// finite differences. The unknown is the carbon stored per volume, u; the potential
// is the carbon that plain austenite would hold at the same activity, phi; the
// flux is D (du/dphi) grad phi. So a layer of nickel slows carbon by holding
// little of it, silicon and chromium push and pull it, and both are one
// continuous potential at the joint. D is Ågren's for austenite, which knows
// temperature and carbon. Between A1 and A3 ferrite and austenite share the place
// and the potential stands still, as it does beside cementite; below A1 all steels
// hold carbide and nothing crosses a joint. Passes thin the layers: lengths are
// kept as they were and D grows by (h0/h)², which conserves carbon exactly. Gas
// takes carbon from the faces; scale and grinding take it with the metal.
//
// Scale is parabolic in air and lean gas, in proportion to time where the gas
// supplies too little oxygen (para-linear law), integrated over the ramps.
//
// Grain growth is a published law; its refinement by cycles an assumption.
//
// Hardening: critical points with the range of each formula, the carbon
// dissolved at the hardening heat, films of the quenchants, the pearlite nose by
// the additive rule, martensite's hardness, retained austenite, temper by a
// parameter fitted to published tables.
//
// # What it leaves out
//
//   - carbides of stainless steel: carbon that goes into 410 or 304 is computed
//     by laws of low-alloy steel, with a warning
//   - diffusion of anything but carbon, along the bar and across its width
//   - time to dissolve: pearlite and carbide are in equilibrium at once
//   - gas inside open joints and scale in them
//   - a full continuous-cooling diagram: bainite is not told from pearlite, and
//     the nose is good to a factor of two
//   - stress: the bow of a laminate has a direction and an upper bound
//
// # Conventions
//
// SI and kelvin; carbon in wt %; hardness in Rockwell C. z runs from side B to
// side A. Looked-up numbers are in Facts with source and status; a law's
// coefficients stand in its function with the paper. D is good to 20 %, a distance
// to 10 %; scale in air to 40 %, in a flame short of air to a factor of three.
package metal
