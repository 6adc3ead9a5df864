package layers

import "testing"

func TestTiltLook(t *testing.T) {
	rc := loadCases(t)[12]
	for _, m := range []Mesh{{6, 2}, {6, 4}, {8, 2}, {10, 2}, {12, 2}, {20, 2}, {12, 5}, {24, 8}} {
		for _, st := range []float64{.04, .02, .015, .01} {
			s := rc.stack(t, m)
			rep, err := s.Press(rc.squeeze(0, st))
			if err != nil {
				t.Fatal(err)
			}
			a := rep.After
			t.Logf("%v %g centre %.4f mean %.4f right %.4f left %.4f F %.0f n %d/%d tot %g", m, st, a.Centre*1e3, a.Offset*1e3, a.Right*1e3, a.Left*1e3, rep.Force/1e3, rep.Newtons, rep.Solves, rep.Work.Imbalance())
		}
	}
}
