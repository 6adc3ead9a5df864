package blade

import (
	"errors"
	"fmt"
	"math"
)

// Ask is what is wanted of the blade in the bar.
type Ask struct {
	Clean    float64 // m to take off each face of the bar so that scale pits are gone
	CoreLine float64 // m above the edge, half way along; 0: not asked
	Points   int     // places along the blade, at least 3; 0: 41
	Brief    bool    // only lines, margins and depths: no Layers, Least, Rescue
}

// Station is the blade at one place along it.
type Station struct {
	S float64 // m from the heel
	X float64 // m in the bar
	Pose
	A, B Face

	Core    float64   // m, thickness of the core at the edge
	D       float64   // m, its mid-plane minus the edge's own, toward A
	MarginA float64   // m, (Core − Edge)/2 + D: core beyond the edge on side A
	MarginB float64   // m, the same with −D
	Beyond  float64   // m, how far the core goes on past the edge toward the bar's side
	Areas   []float64 // m2, of each layer in the section; nil when brief
	pits    float64   // bar's thickness needed to clear pits, as a share of it here
}

// InCore tells whether the edge lies in the core here.
func (s Station) InCore() bool { return s.MarginA > 0 && s.MarginB > 0 && s.Beyond >= 0 }

// Mismatch is core line A minus B, m; nil where either is missing.
func (s Station) Mismatch() *float64 {
	if s.A.CoreLine == nil || s.B.CoreLine == nil {
		return nil
	}
	m := *s.A.CoreLine - *s.B.CoreLine
	return &m
}

// Answer is what the bevels show.
type Answer struct {
	Mid      Station // half way along
	Along    []Station
	Mismatch *float64 // m, A minus B, half way along; nil where a line is missing
	Worst    *float64 // m, the greatest mismatch along the blade by size
	InCore   bool     // the edge lies in the core all along
	Leaves   []Leave  // where it does not
	Drift    Drift    // how the core lies to the edge

	DepthA, DepthB float64 // m, least metal off each face of the bar, all along
	PitsA, PitsB   bool    // depth is at least what clears the pits

	Thickness float64 // m, the bar's, mean over the blade's height half way along
	Least     Least
	Rescue    []Rescue

	Volume   float64   // m3, the blade's
	Layers   []float64 // m3, of each layer in it; they sum to Volume but for the rule's error, below 0.01 %
	NarrowBy float64   // m the bar is too narrow; 0: wide enough
	ShortBy  float64   // m the bar is too short for the blade as placed; 0: not
	Warnings []string
}

// Cut grinds a blade from a bar and tells what shows.
func Cut(bar Bar, b Blade, p Place, ask Ask) (*Answer, error) {
	if err := errors.Join(b.Check(), bar.Check(), p.Check(), ask.check()); err != nil {
		return nil, err
	}
	if ask.Points == 0 {
		ask.Points = 41
	}
	g := grinding{bar, b, p, ask}
	a := &Answer{InCore: true, Volume: b.Volume()}
	a.Along = g.stations(ask.Points)
	a.Mid = g.station(b.Length / 2)
	a.Mismatch = a.Mid.Mismatch()
	a.Worst = worst(a.Along)
	a.Leaves = leaves(a.Along)
	a.InCore = len(a.Leaves) == 0
	a.DepthA, a.DepthB = depths(a.Along)
	a.PitsA, a.PitsB = cleared(a.DepthA, ask.Clean), cleared(a.DepthB, ask.Clean)
	a.Drift = g.drift(a.Along)
	a.Thickness = g.thickness()
	if !ask.Brief {
		a.Layers = layerVolumes(a.Along, b.Length)
		a.Least = g.least(a)
		a.Rescue = g.rescue(a)
	}
	a.warn(g)
	return a, nil
}

func (ask Ask) check() error {
	var errs []error
	if !(ask.Clean >= 0 && ask.Clean <= largest) {
		errs = append(errs, fmt.Errorf("blade: %g m to clear pits; accepted: 0 to 10 m", ask.Clean))
	}
	if !(ask.CoreLine >= 0 && ask.CoreLine <= largest) {
		errs = append(errs, fmt.Errorf("blade: core line %g m above the edge; accepted: 0 to 10 m", ask.CoreLine))
	}
	if ask.Points != 0 && ask.Points < 3 || ask.Points > 10000 {
		errs = append(errs, fmt.Errorf("blade: %d places along the blade; accepted: 3 to 10000", ask.Points))
	}
	return errors.Join(errs...)
}

// cleared compares a depth with the wanted one to within rounding.
func cleared(depth, clean float64) bool { return depth >= clean-1e-12 }

// grinding is one blade laid in one bar.
type grinding struct {
	bar   Bar
	blade Blade
	place Place
	ask   Ask
}

func (g grinding) knife(s float64) knife {
	c := g.bar.at(g.place.X(s))
	return knife{c, g.place.pose(c, g.blade, s), g.blade.ProfileAt(s)}
}

// stations are n places along the blade, heel to tip.
func (g grinding) stations(n int) []Station {
	out := make([]Station, n)
	for i := range out {
		out[i] = g.station(g.blade.Length * float64(i) / float64(n-1))
	}
	return out
}

// station works out everything s from the heel.
func (g grinding) station(s float64) Station {
	k := g.knife(s)
	h := k.heights()
	st := g.edge(k, s)
	st.A, st.B = k.face(SideA, g.bar.Core, h), k.face(SideB, g.bar.Core, h)
	if !g.ask.Brief {
		st.Areas = k.layerAreas(h)
		st.pits = k.pits(h, g.ask.Clean)
	}
	return st
}

// edge works out how the edge lies in the core s from the heel.
func (g grinding) edge(k knife, s float64) Station {
	core := g.bar.Core
	low, high := k.across(k.cross, core, 0), k.across(k.cross, core+1, 0)
	st := Station{S: s, X: g.place.X(s), Pose: k.Pose}
	st.Core = high - low
	st.D = (high+low)/2 - k.EdgeMid()
	st.MarginA = (st.Core-k.Edge)/2 + st.D
	st.MarginB = (st.Core-k.Edge)/2 - st.D
	st.Beyond = math.Inf(1)
	for _, i := range []int{core, core + 1} {
		left, right := k.ends(i)
		end := left
		if k.Way < 0 {
			end = right
		}
		st.Beyond = math.Min(st.Beyond, k.Way*(k.Y-end))
	}
	return st
}

// pits is the share of its thickness the bar needs here for a depth of clean
// off each face: a bar made thicker by r about its middle has its faces at
// m ± r t/2.
func (k knife) pits(heights []float64, clean float64) float64 {
	share := 0.0
	for _, u := range k.withBends(k.withBends(heights, 0), k.layers()) {
		for _, side := range []Side{SideB, SideA} {
			y, z := k.at(side, u)
			d := z - k.mid(y)
			if side == SideB {
				d = -d
			}
			share = math.Max(share, 2*(d+clean)/k.cross.thickness(y))
		}
	}
	return share
}

// thickness is the bar's mean over the blade's height half way along, m.
func (g grinding) thickness() float64 {
	k := g.knife(g.blade.Length / 2)
	sum := 0.0
	for i := range fitPoints {
		u := k.Height * (float64(i) + 0.5) / fitPoints
		sum += k.cross.thickness(k.Y + k.Way*u)
	}
	return sum / fitPoints
}

func worst(along []Station) *float64 {
	var w *float64
	for _, s := range along {
		if m := s.Mismatch(); m != nil && (w == nil || math.Abs(*m) > math.Abs(*w)) {
			w = m
		}
	}
	return w
}

func depths(along []Station) (a, b float64) {
	a, b = math.Inf(1), math.Inf(1)
	for _, s := range along {
		a, b = math.Min(a, s.A.Depth), math.Min(b, s.B.Depth)
	}
	return a, b
}

// layerVolumes sums the layers' areas along the blade, trapezoid rule.
func layerVolumes(along []Station, length float64) []float64 {
	out := make([]float64, len(along[0].Areas))
	n := len(along) - 1
	for i, s := range along {
		w := length / float64(n)
		if i == 0 || i == n {
			w /= 2
		}
		for l, a := range s.Areas {
			out[l] += w * a
		}
	}
	return out
}
