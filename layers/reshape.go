package layers

import (
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
	overhang = s.Overhang()
	pr := s.profile()
	copy(s.joints, joints)
	s.rebuild(pr)
	return overhang, nil
}

// profile is a section told as layer thicknesses across the width.
type profile struct {
	width  float64     // m
	length float64     // m
	thick  [][]float64 // m, [layer][place], places at gradedColumn(-1..1) half widths
	area   []float64   // m2, of each layer
	strain []float64   // of each layer
	wedge  bool        // the two halves differ
}

// place is the share of the half width of profile place c of n.
func profilePlace(c, n int) float64 { return gradedColumn(2*float64(c)/float64(n-1) - 1) }

// profile reads the present section. Each layer is read at shares of its own
// mean half width.
func (s *Stack) profile() *profile {
	m := s.mesh
	n := 2*s.divide.Columns + 1
	pr := &profile{length: s.Length(), area: s.Areas(), strain: s.Strains(), wedge: !m.half}
	pr.width = sum(pr.area) / s.Thickness()
	for i := range s.layers {
		half := m.layerWidth(i) / 2
		mean := m.meanInner(func(y float64) float64 { return m.layerThickness(i, y) })
		row := make([]float64, n)
		for c := range row {
			t := m.layerThickness(i, 0.97*half*profilePlace(c, n))
			row[c] = math.Max(0.3*mean, math.Min(3*mean, t))
		}
		pr.thick = append(pr.thick, row)
	}
	return pr
}

// fit scales the profile until every layer has its area and the bar's thickness
// follows total at every place (nil: even).
func (pr *profile) fit(total []float64) {
	n := len(pr.thick[0])
	share := make([]float64, n) // trapezoid weights, summing to 1
	for c := 0; c+1 < n; c++ {
		d := (profilePlace(c+1, n) - profilePlace(c, n)) / 2
		share[c] += d / 2
		share[c+1] += d / 2
	}
	if total == nil {
		total = make([]float64, n)
		for c := range total {
			total[c] = 1
		}
	}
	level := sum(pr.area) / pr.width / dot(share, total)
	for round := 0; round < 60; round++ {
		for c := 0; c < n; c++ {
			t := 0.0
			for i := range pr.thick {
				t += pr.thick[i][c]
			}
			for i := range pr.thick {
				pr.thick[i][c] *= level * total[c] / t
			}
		}
		for i, row := range pr.thick {
			f := pr.area[i] / pr.width / dot(share, row)
			for c := range row {
				row[c] *= f
			}
		}
	}
}

// rebuild meshes the stack anew from a profile, keeping its thickness across
// the width, with elongations counted from here.
func (s *Stack) rebuild(pr *profile) {
	total := make([]float64, len(pr.thick[0]))
	for c := range total {
		for i := range pr.thick {
			total[c] += pr.thick[i][c]
		}
	}
	pr.fit(total)
	s.build(pr)
}

// remesh rebuilds the section as it is, keeping each group's elongation.
func (s *Stack) remesh() {
	length, elongation := s.length, s.mesh.elongation
	s.rebuild(s.profile())
	s.length = length
	copy(s.mesh.elongation, elongation)
	s.mesh.reference()
}

// build meshes a fitted profile.
func (s *Stack) build(pr *profile) {
	mean := make([]float64, len(pr.thick))
	for i, a := range pr.area {
		mean[i] = a / pr.width
	}
	s.length = pr.length
	m := s.newMesh(mean, pr.width)
	if pr.wedge {
		m = m.whole()
	}
	n := len(pr.thick[0])
	for c := 0; c < m.nc; c++ {
		m.setColumn(c, pr, mean, n-m.nc+c)
	}
	m.reference()
	for c := 0; c < m.nc-1; c++ {
		for r, row := range m.rows {
			for _, p := range row.parts {
				m.strain[m.element(c, r)] += p.share * pr.strain[p.layer]
			}
		}
	}
	s.mesh = m
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
