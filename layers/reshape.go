package layers

import (
	"errors"
	"fmt"
	"math"
)

// SetJoints changes what holds the layers together. Where a weld sets or opens
// the section is meshed anew from its layers' areas and thickness profiles;
// the returned overhang (m) is what the longest layer then stuck out beyond the
// shortest.
func (s *Stack) SetJoints(joints []Joint) (overhang float64, err error) {
	if len(joints) != len(s.layers)-1 {
		return 0, fmt.Errorf("layers: joints: %d given; %d layers have %d", len(joints), len(s.layers), len(s.layers)-1)
	}
	changed := false
	for i, j := range joints {
		if err := checkJoint(i, j); err != nil {
			return 0, err
		}
		changed = changed || j.Welded != s.joints[i].Welded
	}
	if !changed {
		copy(s.joints, joints)
		return 0, nil
	}
	work := s.Clone()
	pr := s.profile()
	copy(work.joints, joints)
	if err := work.rebuild(pr); err != nil {
		return 0, err
	}
	overhang = s.Overhang()
	*s = *work
	return overhang, nil
}

// profile is a section told as layer thicknesses across the width.
type profile struct {
	length float64     // m
	thick  [][]float64 // m, [layer][place], places at gradedColumn(-1..1) half widths
	area   []float64   // m2, of each layer
	strain []float64   // of each layer
	wedge  bool        // the two halves differ
}

// place is the share of the half width of profile place c of n.
func profilePlace(c, n int) float64 { return gradedColumn(2*float64(c)/float64(n-1) - 1) }

// profile reads the present section. Each layer is read at shares of its own
// half width: the mean one, or where its shorter line ends.
func (s *Stack) profile() *profile {
	m := s.mesh
	n := 2*s.divide.Columns + 1
	pr := &profile{length: s.Length(), area: s.Areas(), strain: s.Strains(), wedge: !m.half}
	for i := range s.layers {
		half := m.layerReach(i)
		mean := m.meanInner(func(y float64) float64 { return m.layerThickness(i, y) })
		row := make([]float64, n)
		for c := range row {
			t := m.layerThickness(i, half*profilePlace(c, n))
			row[c] = math.Max(0.3*mean, math.Min(3*mean, t))
		}
		pr.thick = append(pr.thick, row)
	}
	return pr
}

// layerReach is the half width within which both of a layer's lines run.
func (m *mesh) layerReach(i int) float64 {
	half := m.layerWidth(i) / 2
	for _, p := range [2]linePlace{m.lines[i].bottom, m.lines[i].top} {
		half = math.Min(half, m.lineY(p, m.nc-1))
		if !m.half {
			half = math.Min(half, -m.lineY(p, 0))
		}
	}
	return half
}

// placeShares are trapezoid weights of n profile places, summing to 1.
func placeShares(n int) []float64 {
	share := make([]float64, n)
	for c := 0; c+1 < n; c++ {
		d := (profilePlace(c+1, n) - profilePlace(c, n)) / 2
		share[c] += d / 2
		share[c+1] += d / 2
	}
	return share
}

// means are the layers' mean thicknesses, m.
func (pr *profile) means() []float64 {
	share := placeShares(len(pr.thick[0]))
	mean := make([]float64, len(pr.thick))
	for i, row := range pr.thick {
		mean[i] = dot(share, row)
	}
	return mean
}

// level scales the layers at every place so that the bar is evenly thick.
func (pr *profile) level() {
	n := len(pr.thick[0])
	total := make([]float64, n)
	for c := range total {
		for i := range pr.thick {
			total[c] += pr.thick[i][c]
		}
	}
	mean := dot(placeShares(n), total)
	for _, row := range pr.thick {
		for c := range row {
			row[c] *= mean / total[c]
		}
	}
}

// rebuild meshes the stack anew from a profile, with elongations counted from
// here. Every layer keeps its area; its thickness across the width is kept but
// for what its neighbours' sides take or give. Layers that share rows share
// them by their areas.
func (s *Stack) rebuild(pr *profile) error {
	mean := pr.means()
	bundles := bundleLayers(mean, s.core, s.joints, s.divide.Apart)
	target, width := make([]float64, len(bundles)), make([]float64, len(bundles))
	for k, b := range bundles {
		target[k] = sum(pr.area[b.from:b.to])
		pr.shareOut(b, target[k])
		width[k] = target[k] / sum(mean[b.from:b.to])
	}
	s.length = pr.length
	for round := 0; round < 5; round++ {
		s.draw(pr, bundles, width)
		areas := s.Areas()
		for k, b := range bundles {
			f := math.Max(0.5, math.Min(2, target[k]/sum(areas[b.from:b.to])))
			for _, row := range pr.thick[b.from:b.to] {
				for c := range row {
					row[c] *= f
				}
			}
		}
	}
	s.draw(pr, bundles, width)
	m := s.mesh
	m.stretchTo(sum(mean) / s.Thickness())
	m.reference()
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			for _, p := range row.parts {
				m.strain[m.element(c, r)] += p.share * pr.strain[p.layer]
			}
			if !positive(m.elementArea(c, r)) {
				return errRagged
			}
		}
	}
	return nil
}

// errRagged tells that a section is too uneven to be drawn anew.
var errRagged = errors.New("layers: the layers' sides are too uneven for a new mesh; weld or trim the bar before")

// stretchTo scales the thickness, and the width by its inverse.
func (m *mesh) stretchTo(f float64) {
	for i := range m.z {
		m.z[i] *= f
		m.y[i] /= f
	}
}

// shareOut gives the layers of a bundle, everywhere, their share by area.
func (pr *profile) shareOut(b bundle, area float64) {
	for c := range pr.thick[b.from] {
		t := 0.0
		for _, row := range pr.thick[b.from:b.to] {
			t += row[c]
		}
		for i := b.from; i < b.to; i++ {
			pr.thick[i][c] = t * pr.area[i] / area
		}
	}
}

// draw makes a mesh of the profile with the given bundle widths.
func (s *Stack) draw(pr *profile, bundles []bundle, width []float64) {
	n, mean := len(pr.thick[0]), pr.means()
	m := s.newMeshOf(bundles, mean, 2)
	if pr.wedge {
		m = m.whole()
	}
	for c := 0; c < m.nc; c++ {
		m.setColumn(c, pr, mean, n-m.nc+c)
	}
	s.mesh = m
	s.setSides(bundles, width)
}

// mostBow bounds how far a bundle's side is bowed out or in, as a share of the
// width, to hold its area; what more is needed its thickness gives.
const mostBow = 0.02

// setSides draws each level's width: straight through a bundle's mean width at
// slipping joints and faces, half way between neighbours at welds, a little
// bowed between. The mesh has half widths of 1.
func (s *Stack) setSides(bundles []bundle, mean []float64) {
	m := s.mesh
	for k, b := range bundles {
		lo, hi := mean[k], mean[k]
		if k > 0 && s.joints[b.from-1].Welded {
			lo = (lo + mean[k-1]) / 2
		}
		if k+1 < len(bundles) && s.joints[b.to-1].Welded {
			hi = (hi + mean[k+1]) / 2
		}
		first, n := m.lines[b.from].bottom.level, s.divide.PerLayer
		bow := 0.0
		if n > 1 {
			bow = (mean[k] - (lo+hi)/2) / (2.0 / 3 * (1 - 1/float64(n*n)))
			bow = math.Max(-mostBow*mean[k], math.Min(mostBow*mean[k], bow))
		}
		from := 0 // a shared level was drawn with the bundle below
		if k > 0 && s.joints[b.from-1].Welded {
			from = 1
		}
		for l := from; l <= n; l++ {
			u := float64(l) / float64(n)
			w := lo + u*(hi-lo) + bow*4*u*(1-u)
			for c := 0; c < m.nc; c++ {
				m.y[c*m.nl+first+l] *= w / 2
			}
		}
	}
}

// remesh rebuilds the section as it is, keeping each group's elongation.
func (s *Stack) remesh() error {
	length, elongation := s.length, s.mesh.elongation
	if err := s.rebuild(s.profile()); err != nil {
		return err
	}
	s.length = length
	copy(s.mesh.elongation, elongation)
	s.mesh.reference()
	return nil
}

// setColumn stretches a column's levels so that the layers' lines come where
// the profile has them.
func (m *mesh) setColumn(c int, pr *profile, mean []float64, at int) {
	from := make([]float64, len(mean)+1) // the lines' heights in the even mesh
	to := make([]float64, len(mean)+1)
	for i := range mean {
		from[i+1] = from[i] + mean[i]
		to[i+1] = to[i] + pr.thick[i][at]
	}
	last := len(mean)
	for l := 0; l < m.nl; l++ {
		z := m.z[c*m.nl+l] + from[last]/2
		i := 0
		for i < last-1 && z > from[i+1] {
			i++
		}
		u := (z - from[i]) / (from[i+1] - from[i])
		m.z[c*m.nl+l] = to[i] + u*(to[i+1]-to[i]) - to[last]/2
	}
}

// Lose takes even depths (m) of metal off the four long sides, as scaling does.
func (s *Stack) Lose(a, b, left, right float64) error {
	for _, d := range [4]float64{a, b, left, right} {
		if !(d >= 0) || math.IsInf(d, 1) {
			return fmt.Errorf("layers: lose: %g, %g, %g, %g m; depths of zero or more", a, b, left, right)
		}
	}
	if left+right > 0.3*s.mesh.narrowest() {
		return fmt.Errorf("layers: lose: %g mm off the sides; less than 0.15 of the width", (left+right)*1e3)
	}
	work := s.Clone()
	if left != right {
		work.mesh = work.mesh.whole()
	}
	even := func(d float64) func(c int) float64 { return func(int) float64 { return d } }
	if err := work.peel(even(a), even(b)); err != nil {
		return err
	}
	work.mesh.narrow(left, right)
	work.mesh.reference()
	work.mesh.centre()
	*s = *work
	return nil
}

// narrow draws the sides in, each level evenly.
func (m *mesh) narrow(left, right float64) {
	for l := 0; l < m.nl; l++ {
		r := m.y[(m.nc-1)*m.nl+l]
		if m.half {
			for c := 0; c < m.nc; c++ {
				m.y[c*m.nl+l] *= 1 - right/r
			}
			continue
		}
		le := m.y[l]
		f := (r - le - left - right) / (r - le)
		for c := 0; c < m.nc; c++ {
			m.y[c*m.nl+l] = le + left + (m.y[c*m.nl+l]-le)*f
		}
	}
}

// Grind takes metal off faces A and B, a and b metres deep at mid width, and
// leaves each ground face flat and parallel to the other one as it was: A is
// ground first, lying on B. Where a face lies below the plane nothing is
// taken; the returned shares are how much of each face's width came clean
// (1 where nothing was asked).
func (s *Stack) Grind(a, b float64) (cleanA, cleanB float64, err error) {
	if !(a >= 0 && b >= 0) || math.IsInf(a+b, 0) {
		return 0, 0, fmt.Errorf("layers: grind: %g and %g m; depths of zero or more", a, b)
	}
	work := s.Clone()
	cleanA, cleanB = 1, 1
	none := func(int) float64 { return 0 }
	bottom, top := work.mesh.faces()
	if a > 0 {
		cut, clean := work.mesh.plane(top, bottom, a, 1)
		if err := work.peel(cut, none); err != nil {
			return 0, 0, err
		}
		cleanA = clean
	}
	if b > 0 {
		bottom, top = work.mesh.faces()
		cut, clean := work.mesh.plane(bottom, top, b, -1)
		if err := work.peel(none, cut); err != nil {
			return 0, 0, err
		}
		cleanB = clean
	}
	work.mesh.reference()
	work.mesh.centre()
	*s = *work
	return cleanA, cleanB, nil
}

// plane gives the depth to grind at each column to bring a face down to a plane
// parallel to the mean slope of the other.
func (m *mesh) plane(face, rest linePlace, depth, up float64) (cut func(c int) float64, clean float64) {
	slope := m.faceSlope(rest)
	level := m.lineAt(face, 0) - up*depth
	cut = func(c int) float64 {
		over := up * (m.lineZ(face, c) - level - slope*m.lineY(face, c))
		return math.Max(0, over)
	}
	depths := make([]float64, m.nc)
	for c := range depths {
		depths[c] = cut(c)
		if depths[c] > 0 {
			clean++
		}
	}
	clean /= float64(m.nc)
	return func(c int) float64 { return depths[c] }, clean
}

// faceSlope is the least-squares slope of a face across the width.
func (m *mesh) faceSlope(p linePlace) float64 {
	if m.half {
		return 0
	}
	var sy, sz, syy, syz float64
	for c := 0; c < m.nc; c++ {
		y, z := m.lineY(p, c), m.lineZ(p, c)
		sy, sz, syy, syz = sy+y, sz+z, syy+y*y, syz+y*z
	}
	n := float64(m.nc)
	return (syz - sy*sz/n) / (syy - sy*sy/n)
}
