package layers

// guide is what the flow was in each increment of a squeeze: a start for
// Newton in the even squeeze compared with, which differs from it little.
type guide struct {
	flows [][]float64
	touch [][]int // the face each boundary node touched, 0 none
	ready bool    // the first squeeze is done: read, no longer written
}

// note keeps the flow of the next increment.
func (g *guide) note(s *section) {
	if g == nil || g.ready {
		return
	}
	dies := make([]int, len(s.ring))
	for i := range s.ring {
		dies[i] = s.ring[i].die
	}
	g.flows = append(g.flows, append([]float64(nil), s.u...))
	g.touch = append(g.touch, dies)
}

// lead starts increment k (from 0) from the present flow, changed as it changed
// in the squeeze before, and from the contacts there.
func (g *guide) lead(s *section, k int) {
	if g == nil || !g.ready || k >= len(g.flows) || len(g.flows[k]) != len(s.u) {
		return
	}
	for i, v := range g.flows[k] {
		if k == 0 {
			s.u[i] = v
		} else {
			s.u[i] += v - g.flows[k-1][i]
		}
	}
	for i, die := range g.touch[k] {
		r := &s.ring[i]
		d, which := s.nearDie(r.node)
		y, z := s.x[2*r.node], s.x[2*r.node+1]
		r.die = 0
		if die == which && d.covers(y) {
			s.touch(r, which, d.clearance(y, z))
		}
	}
	s.setDrag()
}
