package layers

import (
	"fmt"
	"math"
)

// peel takes depths (m, by column) off the faces at A and B. A layer that
// vanishes everywhere is dropped; one that would vanish over part of the width
// is an error.
func (s *Stack) peel(offA, offB func(c int) float64) error {
	if s.mesh.shave(offA, offB) {
		return nil
	}
	return s.strip(offA, offB)
}

// leastOfRow is the share of an outer layer that must remain everywhere for its
// rows to be kept.
const leastOfRow = 0.25

// shave moves the faces' nodes inward within the outermost layers. It changes
// nothing and returns false where those would grow too thin or share rows.
func (m *mesh) shave(offA, offB func(c int) float64) bool {
	first, last := m.lines[0], m.lines[len(m.lines)-1]
	if len(m.rows[0].parts) > 1 || len(m.rows[len(m.rows)-1].parts) > 1 ||
		first.top.share != 0 && first.top.share != 1 || last.bottom.share != 0 && last.bottom.share != 1 {
		return false
	}
	for c := 0; c < m.nc; c++ {
		tb, ta := m.lineZ(first.top, c)-m.lineZ(first.bottom, c), m.lineZ(last.top, c)-m.lineZ(last.bottom, c)
		a, b := offA(c), offB(c)
		if len(m.lines) == 1 && a+b > (1-leastOfRow)*ta || a > (1-leastOfRow)*ta || b > (1-leastOfRow)*tb {
			return false
		}
	}
	for c := 0; c < m.nc; c++ {
		m.press(c, first, -1, offB(c))
		m.press(c, last, 1, offA(c))
	}
	return true
}

// press moves the levels of one outer layer in a column inward by d at the
// face (up: +1 for face A), by nothing at its inner line.
func (m *mesh) press(c int, l layerLines, up, d float64) {
	z0, z1 := m.lineZ(l.bottom, c), m.lineZ(l.top, c)
	for k := 0; k < m.nl; k++ {
		i := c*m.nl + k
		u := (m.z[i] - z0) / (z1 - z0)
		if u < -1e-9 || u > 1+1e-9 {
			continue
		}
		if up < 0 {
			u = 1 - u
		}
		m.z[i] -= up * d * u
	}
}

// A layer broken through over no more than cornerShare of the width, at the
// corners, is kept there as a film of filmShare of its mean thickness. Layers
// thinner than thinShare of the bar are not worth an error: less than half left
// and they are gone, else they are kept so.
const (
	thinShare   = 1.0 / 12
	cornerShare = 0.2
	filmShare   = 0.02
)

// strip removes metal layer by layer through a profile, and meshes anew.
func (s *Stack) strip(offA, offB func(c int) float64) error {
	pr := s.profile()
	n := len(pr.thick[0])
	share, before := placeShares(n), pr.means()
	for c := 0; c < n; c++ {
		at := c
		if s.mesh.half {
			at = c - (n - s.mesh.nc)
			if at < 0 {
				at = -at
			}
		}
		take(pr.thick, c, offB(at), 0, 1)
		take(pr.thick, c, offA(at), len(pr.thick)-1, -1)
	}
	gone := make([]bool, len(pr.thick))
	left := 0
	for i, row := range pr.thick {
		mean, broken, most := before[i], 0.0, 0.0
		for c, t := range row {
			most = math.Max(most, t)
			if t < filmShare*mean {
				broken += share[c]
			}
		}
		thin := before[i] < thinShare*sum(before)
		gone[i] = most < 1e-6*mean || thin && dot(share, row) < mean/2
		if gone[i] {
			continue
		}
		if broken > cornerShare && !thin {
			return fmt.Errorf("layers: grind: layer %d (%s) would be broken through over part of the width; less, or through all of it", i+1, s.layers[i].Name)
		}
		for c := range row {
			row[c] = math.Max(row[c], filmShare*mean)
		}
		left++
		pr.area[i] *= dot(share, row) / mean
	}
	if left == 0 || gone[s.core] {
		return fmt.Errorf("layers: grind: the core would be ground away; less")
	}
	s.drop(pr, gone)
	return s.rebuild(pr)
}

// take removes a depth at place c, starting at layer i and going on by step.
func take(thick [][]float64, c int, depth float64, i, step int) {
	for ; depth > 0 && i >= 0 && i < len(thick); i += step {
		d := math.Min(depth, thick[i][c])
		thick[i][c] -= d
		depth -= d
	}
}

// drop takes layers out of the stack and the profile. Only outermost layers go.
func (s *Stack) drop(pr *profile, gone []bool) {
	var ls []Layer
	var js []Joint
	next := &profile{length: pr.length, wedge: pr.wedge}
	core := 0
	for i, g := range gone {
		if g {
			continue
		}
		if i == s.core {
			core = len(ls)
		}
		if len(ls) > 0 {
			js = append(js, s.joints[i-1])
		}
		ls = append(ls, s.layers[i])
		next.thick = append(next.thick, pr.thick[i])
		next.area = append(next.area, pr.area[i])
		next.strain = append(next.strain, pr.strain[i])
	}
	s.layers, s.joints, s.core = ls, js, core
	*pr = *next
}

// maxLayers bounds a restacked pile.
const maxLayers = 4096

// Restack cuts the bar across into equal pieces, grinds off (m) from both faces
// of each, and piles them all the same way up, joined as given. The core
// becomes the core of the middle piece (the lower one of two). The faces
// are then flat.
func (s *Stack) Restack(pieces int, off float64, joint Joint) error {
	if pieces < 2 || pieces*len(s.layers) > maxLayers {
		return fmt.Errorf("layers: restack: %d pieces of %d layers; 2 or more pieces, at most %d layers in all", pieces, len(s.layers), maxLayers)
	}
	if err := checkJoint(len(s.layers)-1, joint); err != nil {
		return err
	}
	work := s.Clone()
	if _, _, err := work.Grind(off, off); err != nil {
		return err
	}
	one := work.profile()
	one.level()
	pile := &profile{length: one.length / float64(pieces), wedge: one.wedge}
	var ls []Layer
	var js []Joint
	for p := 0; p < pieces; p++ {
		if p > 0 {
			js = append(js, joint)
		}
		ls = append(ls, work.layers...)
		js = append(js, work.joints...)
		for _, row := range one.thick {
			pile.thick = append(pile.thick, append([]float64(nil), row...))
		}
		pile.area = append(pile.area, one.area...)
		pile.strain = append(pile.strain, one.strain...)
	}
	work.core += (pieces - 1) / 2 * len(work.layers)
	work.layers, work.joints = ls, js
	if err := work.rebuild(pile); err != nil {
		return err
	}
	*s = *work
	return nil
}
