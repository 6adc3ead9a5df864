package sim

import (
	"slices"
	"testing"
)

// This job's own value is among those swept wherever it lies between them.
func TestSweepHasThisJob(t *testing.T) {
	at := []float64{10, 20, 30, 40}
	for _, c := range []struct {
		here float64
		has  bool
		want []float64
	}{
		{25, true, []float64{10, 20, 25, 30, 40}}, {21, true, []float64{10, 21, 30, 40}}, {29, true, []float64{10, 20, 29, 40}},
		{11, true, []float64{10, 11, 20, 30, 40}}, {39, true, []float64{10, 20, 30, 39, 40}},
		{20, true, at}, {5, true, at}, {45, true, at}, {25, false, at},
	} {
		s := Sweep{Here: c.here, HasIt: c.has}
		if got := s.withHere(at); !slices.Equal(got, c.want) {
			t.Errorf("%v at %g: %v, want %v", c.has, c.here, got, c.want)
		}
	}
	if !slices.Equal(at, []float64{10, 20, 30, 40}) {
		t.Errorf("the values given were changed: %v", at)
	}
}
