package layers

import "testing"

// Source: the prototype's own statistics over the same trials (computed): the
// coarse mesh's centre and mean agree in sign always and within 25 % for all
// welded bars, median ratio 0.97, force 0.99 +- 0.014. Here every seventh welded
// trial; the whole table is a benchmark.
func TestCoarseAgainstFine(t *testing.T) {
	var some []Trial
	for i, trial := range Trials() {
		if trial.SlipFactor == 0 && i%7 == 0 {
			some = append(some, trial)
		}
	}
	got, force, err := Judge(some, Mesh{}, Mesh{Columns: 16, PerLayer: 5}, 0, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range got[:2] {
		if a.Count < 10 || a.SameSign < 1-1e-9 || a.Within25 < 1-1e-9 || a.Median < 0.93 || a.Median > 1.05 {
			t.Errorf("%+v", a)
		}
	}
	if force < 0.98 || force > 1.02 {
		t.Errorf("force ratio %g", force)
	}
	t.Logf("%d trials: %+v, force %.4f", len(some), got, force)
}
