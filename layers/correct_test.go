package layers

import (
	"math"
	"testing"
)

// A corrected bar measures what was measured, and keeps its volume.
func TestCorrect(t *testing.T) {
	flow := func(_, rate, _ float64) float64 { return 60e6 * math.Pow(rate, 0.13) }
	s, err := NewStack(0.04, 0.1, []Layer{{"a", 0.01, flow}, {"b", 0.006, flow}, {"a", 0.01, flow}}, nil, 1, Mesh{})
	if err != nil {
		t.Fatal(err)
	}
	volume := func() float64 {
		v := 0.0
		for _, a := range s.Areas() {
			v += a
		}
		return v * s.Length()
	}
	before := volume()
	th, w, o := 0.0245, 0.0415, 0.0004
	if err := s.Correct(Measured{&th, &w, &o}); err != nil {
		t.Fatal(err)
	}
	sh := s.Shape()
	if math.Abs(sh.Thickness-th) > 1e-9 || math.Abs(sh.Width-w) > 1e-9 || math.Abs(sh.Offset-o) > 1e-6 {
		t.Errorf("thickness %g width %g offset %g", sh.Thickness, sh.Width, sh.Offset)
	}
	if v := volume(); math.Abs(v-before) > 1e-9*before {
		t.Errorf("volume %g, before %g", v, before)
	}
	far := 0.05
	if err := s.Correct(Measured{Thickness: &far}); err == nil {
		t.Error("a bar twice as thick as computed was taken over")
	}
}
