package layers

import "math"

// move advances the section by dt and reports whether it stayed unfolded; if
// not, nothing is changed.
func (s *section) move(dt float64) bool {
	for i := 0; i < s.dofs; i++ {
		s.x[i] += s.u[i] * dt
	}
	for i := range s.els {
		if !s.sound(&s.els[i]) {
			for i := 0; i < s.dofs; i++ {
				s.x[i] -= s.u[i] * dt
			}
			return false
		}
	}
	for i := range s.els {
		e := &s.els[i]
		e.strain += s.equivalent(e) * dt
		rate := s.u[s.dofs+e.group]
		if s.curls {
			rate += s.u[s.dofs+s.groups] * (e.midZ - s.law.midZ)
		}
		e.stretch *= 1 + rate*dt
		now := math.Log(s.quadArea(e) * e.stretch / e.area0)
		e.second = (now - e.excess + e.pull*dt) / (dt * dt)
	}
	for g := range s.stretch {
		s.stretch[g] *= 1 + s.u[s.dofs+g]*dt
	}
	for i := range s.dies {
		s.dies[i].at += s.dies[i].speed * dt
	}
	return true
}

func (s *section) quadArea(e *element) float64 {
	a, b, c, d := 2*e.node[0], 2*e.node[1], 2*e.node[2], 2*e.node[3]
	x := s.x
	return 0.5 * ((x[d]-x[a])*(x[b+1]-x[c+1]) - (x[b]-x[c])*(x[d+1]-x[a+1]))
}

// sound checks that a quadrilateral's area element is positive at its four
// Gauss points. A corner may open to a straight line, as when a side folds on
// to a tool.
func (s *section) sound(e *element) bool {
	at := [4]int{e.node[0], e.node[2], e.node[3], e.node[1]} // once round
	var j [4]float64
	for i, b := range at {
		a, c := at[(i+3)%4], at[(i+1)%4]
		ay, az := s.x[2*b]-s.x[2*a], s.x[2*b+1]-s.x[2*a+1]
		by, bz := s.x[2*c]-s.x[2*b], s.x[2*c+1]-s.x[2*b+1]
		j[i] = ay*bz - az*by
	}
	near, beside := (1+gaussPlace)/2, (1-gaussPlace)/2
	for i := range j {
		if near*near*j[i]+near*beside*(j[(i+1)%4]+j[(i+3)%4])+beside*beside*j[(i+2)%4] <= 0 {
			return false
		}
	}
	return true
}

// equivalent is an element's mean equivalent strain rate, 1/s.
func (s *section) equivalent(e *element) float64 {
	t, a := 0.0, 0.0
	for g := range e.w {
		t += e.w[g] * math.Sqrt(s.rateSquared(e, g))
		a += e.w[g]
	}
	return t / a
}
