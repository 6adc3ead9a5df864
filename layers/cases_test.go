package layers

import (
	"encoding/json"
	"math"
	"os"
	"strings"
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

func TestFineLook(t *testing.T) {
	for _, rc := range loadCases(t) {
		s := rc.stack(t, Mesh{Columns: 20, PerLayer: rc.Mesh.NZ})
		for i := range rc.Passes {
			rep, err := s.Press(rc.squeeze(i, 0.015))
			if err != nil {
				t.Errorf("%s: %v", rc.Name, err)
				break
			}
			r, a := rc.Results[i], rep.After
			t.Logf("%.10s h %.2f centre %7.4f %7.4f mean %7.4f %7.4f right %7.4f %7.4f wmax %.2f %.2f F %.0f %.0f el %.4f %.4f newt %d/%d",
				rc.Name, r.H, a.Centre*1e3, r.Centre, a.Offset*1e3, r.Mean, a.Right*1e3, r.Right, a.Width*1e3, r.WidthMax,
				rep.Force/1e3, r.Force, a.Layers[0].Elongation, r.Elongation[0], rep.Newtons, rep.Solves)
			for k, l := range a.Layers {
				t.Logf("     t %.4f %.4f  w %.3f %.3f", l.Thickness*1e3, r.Thickness[k], l.MeanWidth*1e3, r.MeanWidth[k])
			}
		}
	}
}

func TestCasesLook(t *testing.T) {
	for _, rc := range loadCases(t) {
		s := rc.stack(t, Mesh{})
		for i := range rc.Passes {
			rep, err := s.Press(rc.squeeze(i, 0.04))
			if err != nil {
				t.Errorf("%s: %v", rc.Name, err)
				break
			}
			r := rc.Results[i]
			if i < len(rc.Passes)-1 {
				continue
			}
			a := rep.After
			t.Logf("%-28s centre %7.3f %7.3f mean %7.3f %7.3f right %7.3f %7.3f left %7.3f wmax %.2f %.2f F %.0f %.0f el %.4f %.4f newt %d/%d imb %.1e",
				strings.SplitN(rc.Name, ":", 2)[0], a.Centre*1e3, r.Centre, a.Offset*1e3, r.Mean, a.Right*1e3, r.Right, a.Left*1e3, a.Width*1e3, r.WidthMax,
				rep.Force/1e3, r.Force, a.Layers[0].Elongation, r.Elongation[0], rep.Newtons, rep.Solves, rep.Work.Imbalance())
			for k, l := range a.Layers {
				t.Logf("     t %.3f %.3f  w %.3f %.3f", l.Thickness*1e3, r.Thickness[k], l.MeanWidth*1e3, r.MeanWidth[k])
			}
		}
	}
}
