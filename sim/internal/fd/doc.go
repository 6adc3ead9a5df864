// Package fd is the numerical kernel that heat and carbon share: conservative
// finite differences on a grid of control volumes in one, two or three
// directions, advanced in time by a linearly implicit method with error
// control.
//
// The equation is
//
//	∂u/∂t = ∇·(κ ∇φ),  φ = φ(u)
//
// with u what is stored per volume (enthalpy, carbon), φ the potential that
// drives it (temperature, activity) and κ the mobility (conductivity). Faces
// let in q(φ, t) per area; contacts are links without length that let through
// g·Δφ. Because u is the unknown, what leaves one control volume enters its
// neighbour, and heat of transformation can't be stepped over.
//
// Space: vertex-centred control volumes, nodes on every face and joint, second
// order on smoothly graded lines. Axis.Compact makes what a control volume holds
// depend on the nodes beside it too: fourth order on even lines, third on graded
// ones and at faces and contacts.
//
// Time: the four-stage W-method ROS34PW2 of Rang and Angermann (BIT 45, 2005,
// 761–787; coefficients from memory, their order conditions are tested here):
// third order for any approximation of the Jacobian, stiffly accurate and
// L-stable with the exact one. In one direction the Jacobian is exact but for
// the slope of κ. In two and three it is replaced by the product of
// one-direction factors, each a tridiagonal sweep; the method keeps its order
// and its stability function stays within [−0.72, 1] for all non-positive real
// eigenvalues (tested).
package fd
