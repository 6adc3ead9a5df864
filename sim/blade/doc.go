// Package blade cuts a finished blade out of a layered bar and answers what
// the bevels show: where the core comes out on each face, whether the edge
// lies in the core all along, how much jacket is left at the spine, whether
// scale pits grind out, and how thick the bar must be left for all that. It
// also goes the other way: from the core line wanted to the core and jackets
// a bar must have before grinding.
//
// # Frames
//
// The bar's frame is x front to back, y left to right, z from side B to side
// A. The blade's own frame is u, up from the edge toward the spine, and v,
// from its centre plane toward side A; s runs from the heel to the tip.
//
// # What the shapes are
//
// A flat bevel is a straight line from the edge's corner to the shoulder. A
// hollow one is the circle of the wheel through those two points. A convex one
// is a parabola standing bulge above the straight line at its middle. A chisel
// has one straight bevel; its other face is one plane. The spine tapers evenly
// from heel to tip, the height of blade and bevel stay the same, and a convex
// bulge shrinks with the wedge.
//
// # What is left out
//
// Bevels forged in (the layers bend with them), the belly and point of the
// outline (the blade is as high at the tip as at the heel), plunge and
// ricasso, the sharpened edge itself, and bending of the bar along x: the
// grind is laid from the bar's own mid-plane at every place along it.
package blade
