package layers

import "math"

// section is the flow problem of one increment: everything the Newton loop
// touches, sized once for a squeeze. Its frame is the machine's reduced to the
// metal: the tools close along z, the bar's length is x.
//
// Unknowns: v_y, v_z of each node (2 a node), then one elongation rate a bonded
// group, then the curvature rate if it is followed.
type section struct {
	nodes   int
	levels  int // nodes in a line from tool to tool
	dofs    int // 2 x nodes
	groups  int
	border  int // groups, +1 with curvature
	curls   bool
	bent    bool // the curvature rate is prescribed, no tools act
	half    bool
	flat    bool      // a whole section between flat faces, not on edge
	x       []float64 // positions y, z of each node, m
	els     []element
	ring    []ringNode // boundary nodes in order
	edges   []ringEdge // edges[i] joins ring[i] and ring[i+1]
	closed  bool       // the last ring node joins the first
	columns []upright
	slips   []slipPair
	spine   []int // nodes on y = 0 of a half section
	dies    [2]die
	law     increment
	lin     linear
	u       []float64 // unknowns: nodal, then border
	trial   []float64
	next    []float64
	stretch []float64 // elongation of each group
	power   Energy    // filled by account
	moment  float64   // N m, bends the section (the half kept); filled by assemble if bent
}

// increment holds what is frozen while one increment is solved.
type increment struct {
	height, closing, dt, rate float64 // m, m/s, s, 1/s
	bite                      float64 // m
	restraint                 float64 // alpha
	eta, bulk, stiff, rho     float64 // Pa s: viscosity scale and the penalties made of it
	slow2                     float64 // v_0^2, (m/s)^2
	minRate2                  float64 // e_min^2, 1/s^2
	midZ                      float64 // m, the height at which curvature has no strain
	scale                     float64 // S R^(1+m) A summed: the power scale, W/m
	arm                       [4]float64
	weight                    [4]float64
}

// Constants of the functional, as multiples of the viscosity scale
// eta = mean(S) R^(m-1)/3 or of the nominal rate R. They are numerical
// parameters: large enough to hold volume to 0.1 %, small enough for doubles.
const (
	bulkFactor  = 1e5
	stiffFactor = 2e5
	rhoFactor   = 1e-7
	slowFactor  = 0.01  // v_0 over the closing speed
	floorFactor = 0.002 // e_min over R
)

// element is one quadrilateral. Its nodes are a, b above it, then the next
// column's c and d: ascending numbers.
type element struct {
	node     [4]int
	group    int
	row      int
	coef     float64 // S, Pa s^m
	exponent float64 // m
	stress   float64 // flow stress at the nominal rate, Pa
	tempK    float64
	strain   float64
	area0    float64 // m2
	area     float64
	stretch  float64 // lambda of the element
	excess   float64 // ln J, J = area x stretch over what is to be kept
	second   float64 // 1/s2, what straight steps add to ln J, as seen in the last one
	pull     float64 // c_J, 1/s: the rate that takes ln J back to zero
	midZ     float64
	dy, dz   [4][4]float64 // shape derivatives at each Gauss point, 1/m
	w        [4]float64    // area of each Gauss point, m2
	zg       [4]float64    // height of each Gauss point, m
	da       [8]float64    // d(ln area)/d(position), 1/m
}

var gaussPlace = 1 / math.Sqrt(3)

// gauss4 are the four-point Gauss-Legendre places on 0..1 and their weights.
var gauss4 = [2][4]float64{
	{0.06943184420297371, 0.33000947820757187, 0.6699905217924281, 0.9305681557970263},
	{0.17392742256872693, 0.32607257743127307, 0.32607257743127307, 0.17392742256872693},
}

// shape sets an element's area, derivatives and volume pull from the present
// positions. It reports whether the quadrilateral is still convex.
func (s *section) shape(e *element) bool {
	var y, z [4]float64
	for i, n := range e.node {
		y[i], z[i] = s.x[2*n], s.x[2*n+1]
	}
	e.area = 0.5 * ((y[3]-y[0])*(z[1]-z[2]) - (y[1]-y[2])*(z[3]-z[0]))
	e.midZ = 0.25 * (z[0] + z[1] + z[2] + z[3])
	ok := e.area > 0
	g := 0
	for _, xi := range [2]float64{-gaussPlace, gaussPlace} {
		for _, et := range [2]float64{-gaussPlace, gaussPlace} {
			dxi := [4]float64{-(1 - et) / 4, -(1 + et) / 4, (1 - et) / 4, (1 + et) / 4}
			det := [4]float64{-(1 - xi) / 4, (1 - xi) / 4, -(1 + xi) / 4, (1 + xi) / 4}
			var yx, zx, ye, ze float64
			for i := range dxi {
				yx += dxi[i] * y[i]
				zx += dxi[i] * z[i]
				ye += det[i] * y[i]
				ze += det[i] * z[i]
			}
			j := yx*ze - zx*ye
			ok = ok && j > 0
			e.w[g] = j
			for i := range dxi {
				e.dy[g][i] = (dxi[i]*ze - det[i]*zx) / j
				e.dz[g][i] = (det[i]*yx - dxi[i]*ye) / j
			}
			e.zg[g] = bilinear(z, xi, et)
			g++
		}
	}
	h := 0.5 / e.area
	e.da = [8]float64{
		-(z[1] - z[2]) * h, (y[1] - y[2]) * h,
		-(z[3] - z[0]) * h, (y[3] - y[0]) * h,
		(z[3] - z[0]) * h, -(y[3] - y[0]) * h,
		(z[1] - z[2]) * h, -(y[1] - y[2]) * h,
	}
	e.excess = math.Log(e.area * e.stretch / e.area0)
	limit := 0.5 * s.law.rate
	e.pull = math.Max(-limit, math.Min(limit, e.excess/s.law.dt+e.second*s.law.dt))
	return ok
}

func bilinear(v [4]float64, xi, et float64) float64 {
	return 0.25 * ((1-xi)*((1-et)*v[0]+(1+et)*v[1]) + (1+xi)*((1-et)*v[2]+(1+et)*v[3]))
}

// upright is a column of nodes whose mean sideways speed the bar outside the
// bite restrains. The mean is over the metal that belongs to the column.
type upright struct {
	nodes []int
	share []float64 // of the column's metal, summing to 1
	elems []uprightElem
	hold  float64 // alpha (2/b) k A, N/m: power per unit length over speed
}

// uprightElem is an element touching a column and the places of its two nodes
// in it.
type uprightElem struct{ elem, lower, upper int }

// setColumns finds each upright's shares and strength of hold.
func (s *section) setColumns() {
	l := &s.law
	for i := range s.columns {
		c := &s.columns[i]
		clear(c.share)
		area, ka := 0.0, 0.0
		for _, e := range c.elems {
			el := &s.els[e.elem]
			c.share[e.lower] += el.area / 2
			c.share[e.upper] += el.area / 2
			area += el.area
			ka += el.area / 2 * el.stress / math.Sqrt(3)
		}
		for k := range c.share {
			c.share[k] /= area
		}
		c.hold = l.restraint * 2 / l.bite * ka
	}
}
