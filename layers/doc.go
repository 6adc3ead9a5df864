// Package layers holds a welded or merely stacked bar of layers and works out
// how those layers move when the bar is pressed, rolled or hammered.
//
// The bar is described in the metal's own frame: z runs from side B to side A,
// y from left to right, x along the bar. A flip changes which side lies on the
// lower die, never the names of the sides, and every offset is positive toward
// side A whichever side is down.
//
// One model does the work: a rigid-viscoplastic flow of the cross-section in
// generalised plane strain (flow formulation with penalty: Kobayashi, Oh and
// Altan 1989; Zienkiewicz and Godbole 1974; both from memory), coarse by
// default and refined on request. Strength comes in as a function of strain,
// rate and temperature, temperatures as numbers; no heat flows in here. Before
// a squeeze by flat faces a bar out of true is laid on the lower one, as by its
// weight; between rolls that is an assumption.
//
// All quantities are SI with temperatures in kelvin.
package layers
