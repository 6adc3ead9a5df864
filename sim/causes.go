package sim

import (
	"context"
	"math"
	"reflect"
	"runtime"
	"sync"
)

// variants is the final mean offset along the bar under several changes, each
// run on its own; the order of the answers is that of the questions.
func variants(ctx context.Context, j *Job, script []move, stations int, cs []changes) ([]float64, error) {
	offsets := make([]float64, len(cs)*stations)
	errs := make([]error, len(offsets))
	work := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(offsets)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range work {
				if errs[k] = ctx.Err(); errs[k] != nil {
					continue
				}
				s, err := replay(j, script, k%stations, cs[k/stations])
				if err != nil {
					errs[k] = err
					continue
				}
				offsets[k] = s.Shape().Offset
			}
		}()
	}
	for k := range offsets {
		work <- k
	}
	close(work)
	wg.Wait()
	out := make([]float64, len(cs))
	for k, v := range offsets {
		if errs[k] != nil {
			return nil, errs[k]
		}
		out[k/stations] += v / float64(stations)
	}
	return out, nil
}

// theCauses are the causes of drift, each with the change that switches it off.
func theCauses() []struct {
	name string
	off  changes
} {
	return []struct {
		name string
		off  changes
	}{
		{StartJackets, changes{evenJackets: true}},
		{Temperature, changes{evenTemperature: true}},
		{Friction, changes{evenFriction: true}},
		{StrengthName, changes{evenStrength: true}},
		{ToolShape, changes{plainTools: true}},
		{Slip, changes{welded: true}},
		{Losses, changes{noLosses: true}},
	}
}

// present says which causes the work has at all; the others need no run.
func (w *worker) present(name string) bool {
	fresh, err := newStack(w.job, changes{})
	if err != nil {
		return true
	}
	ls, core := fresh.Layers(), fresh.Core()
	for i := range core {
		k := 2*core - i
		if k >= len(ls) {
			continue
		}
		if name == StartJackets && ls[i].Thickness != ls[k].Thickness || name == StrengthName && ls[i].Name != ls[k].Name {
			return true
		}
	}
	for _, m := range w.script {
		if m.present(w.job, name) {
			return true
		}
	}
	return false
}

// present says whether a move has a cause of drift in it.
func (m move) present(j *Job, name string) bool {
	if m.kind == moveGrind {
		return name == Losses && m.pass.OffA != m.pass.OffB
	}
	if m.kind == moveLose {
		const same = 1e-9 // m
		return name == Losses && math.Abs(m.lose[0]-m.lose[1]) > same
	}
	if m.kind != moveSqueeze {
		return false
	}
	switch name {
	case Temperature:
		return true
	case Friction:
		a, errA := makeTool(j, m.pass, m.downA, changes{})
		b, errB := makeTool(j, m.pass, m.downA, changes{evenFriction: true})
		return errA != nil || errB != nil || !reflect.DeepEqual(a, b)
	case ToolShape:
		a, errA := makeTool(j, m.pass, m.downA, changes{})
		b, errB := makeTool(j, m.pass, m.downA, changes{plainTools: true})
		return m.pass.Tilt != 0 || m.pass.Tool == ByHammer || errA != nil || errB != nil || !reflect.DeepEqual(a, b)
	case Slip:
		for _, joints := range m.joints {
			for _, jt := range joints {
				if !jt.Welded {
					return true
				}
			}
		}
	}
	return false
}

// explain splits the final offset into its causes by switching each off in
// turn; what the sum leaves is interaction.
func (w *worker) explain() error {
	var cs []changes
	var which []int
	list := theCauses()
	for i, c := range list {
		if w.present(c.name) {
			cs, which = append(cs, c.off), append(which, i)
		}
	}
	without, err := variants(w.ctx, w.job, w.script, len(w.st), cs)
	if err != nil {
		return err
	}
	total := w.out.Final.Offset
	share := make([]float64, len(list))
	left := total
	for k, i := range which {
		share[i] = total - without[k]
		left -= share[i]
	}
	for i, c := range list {
		w.out.Causes = append(w.out.Causes, Cause{Name: c.name, Offset: share[i]})
	}
	w.out.Causes = append(w.out.Causes, Cause{Name: Interaction, Offset: left})
	return nil
}
