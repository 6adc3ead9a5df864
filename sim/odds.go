package sim

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sort"
	"sync"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"billet/layers"
	"billet/sim/heat"
)

// draw is one way the day may go: what the smith can't hold exactly.
type draw struct {
	jacket   []float64  // factor on each layer but the core
	side     float64    // K, lower side above its computed temperature, all day
	rest     float64    // factor on what lying on the die did
	reading  float64    // K, everything hotter
	friction [2]float64 // factors, top and bottom tool
	tilt     []float64  // m over the width, by squeeze
}

// temperatures is a map as this day has it.
func (d *draw) temperatures(m heat.Map, downA bool) heat.Map {
	even := m.Mirrored()
	out := heat.Map{Y: m.Y, Z: m.Z}
	for k, row := range m.T {
		r := make([]float64, len(row))
		low := 1 - m.Z[k] // 1 at the lower side
		if downA {
			low = m.Z[k]
		}
		for i, t := range row {
			r[i] = even.T[k][i] + d.rest*(t-even.T[k][i]) + d.reading + d.side*(low-0.5)
		}
		out.T = append(out.T, r)
	}
	return out
}

// inputs are the draw's values in units of their spread, in the order of
// inputNames.
func (d *draw) inputs(s Spread, core int) []float64 {
	unit := func(v, sd float64) float64 {
		if sd == 0 {
			return 0
		}
		return v / sd
	}
	var below, above float64
	for i, f := range d.jacket {
		switch {
		case i < core:
			below += f - 1
		case i > core:
			above += f - 1
		}
	}
	tilt := 0.0
	for _, t := range d.tilt {
		tilt += t
	}
	if n := len(d.tilt); n > 0 {
		tilt /= math.Sqrt(float64(n))
	}
	return []float64{unit(below-above, s.Jacket), unit(d.side, s.SideToSide), unit(d.rest-1, s.Rest),
		unit(tilt, s.Tilt), unit(d.friction[0]-d.friction[1], s.Friction), unit(d.reading, s.Reading)}
}

// has says whether input i, in the order of InputNames, is spread at all.
func (s Spread) has(i int) bool {
	return [...]float64{s.Jacket, s.SideToSide, s.Rest, s.Tilt, s.Friction, s.Reading}[i] > 0
}

// InputNames are what the odds draw, in the order of Odds.Shares.
var InputNames = []string{"jackets", "side_to_side", "rest", "tilt", "friction", "reading"}

// newDraw draws a day. The k-th day of a seed is the same however many there
// are and whoever works it.
func newDraw(seed int64, k int, s Spread, layerCount, squeezes int) *draw {
	r := rand.New(rand.NewPCG(uint64(seed), uint64(k)))
	d := &draw{}
	for range layerCount {
		d.jacket = append(d.jacket, math.Max(0.5, 1+s.Jacket*r.NormFloat64()))
	}
	d.side = s.SideToSide * r.NormFloat64()
	d.rest = math.Max(0, 1+s.Rest*r.NormFloat64())
	d.reading = s.Reading * r.NormFloat64()
	for i := range d.friction {
		d.friction[i] = math.Max(0.1, 1+s.Friction*r.NormFloat64())
	}
	for range squeezes {
		d.tilt = append(d.tilt, s.Tilt*r.NormFloat64())
	}
	return d
}

// outcome is what a day left: the mean offset, and core and offset where the
// blade's edge will lie.
type outcome struct{ offset, edgeOffset, edgeCore float64 }

// mismatch is how far the core lines on the two faces would differ half way
// along the blade, A minus B, m; ok is false where a line is missing.
func (w *worker) mismatch(r outcome) (float64, bool) {
	b := theBlade(w.job.Blade)
	p := b.ProfileAt(b.Length / 2)
	d := r.edgeOffset - w.job.Blade.Offset
	a, okA := p.HeightAt(r.edgeCore/2 + d)
	c, okB := p.HeightAt(r.edgeCore/2 - d)
	return a - c, okA && okB
}

func (w *worker) outcomeOf(s *layers.Stack) outcome {
	o := outcome{offset: s.Shape().Offset}
	if b := w.job.Blade; b != nil {
		y := s.Width()/2 - b.EdgeFromSide
		if !b.EdgeRight {
			y = -y
		}
		lower, upper := s.LayerAt(s.Core(), y)
		o.edgeOffset, o.edgeCore = s.OffsetAt(y), upper-lower
	}
	return o
}

// tiltResponse is how the outcome changes for each squeeze tilted by a metre
// over the width, by differences on the whole section.
func (w *worker) tiltResponse(s Spread) ([]outcome, error) {
	base, err := w.day(nil, nil)
	if err != nil {
		return nil, err
	}
	n := w.squeezes()
	out := make([]outcome, n)
	if s.Tilt == 0 {
		return out, nil
	}
	for k := range n {
		// A tilted squeeze of a thin bar may have no steady flow; a smaller
		// tilt then gives the slope, or the squeeze counts for nothing.
		for _, tilt := range [...]float64{s.Tilt, s.Tilt / 4} {
			t := make([]float64, n)
			t[k] = tilt
			if o, err := w.day(nil, t); err == nil {
				out[k] = outcome{(o.offset - base.offset) / tilt, (o.edgeOffset - base.edgeOffset) / tilt, (o.edgeCore - base.edgeCore) / tilt}
				break
			}
		}
	}
	return out, nil
}

func (w *worker) squeezes() int {
	n := 0
	for _, m := range w.script {
		if m.kind == moveSqueeze {
			n++
		}
	}
	return n
}

// day replays the work at mid length for a draw, with squeezes tilted where
// tilts are given.
func (w *worker) day(d *draw, tilts []float64) (outcome, error) {
	c := changes{draw: d}
	s, err := newStack(w.job, c)
	if err != nil {
		return outcome{}, err
	}
	k := 0
	for _, m := range w.script {
		if m.kind == moveSqueeze {
			if tilts != nil {
				m.pass.Tilt += tilts[k]
			}
			k++
		}
		if err := m.apply(w.job, s, len(w.st)/2, c); err != nil {
			return outcome{}, err
		}
	}
	return w.outcomeOf(s), nil
}

// odds draws many days. Tilt enters by its linear response; the first
// checkedDays are also worked in full, and what the response missed is given.
const checkedDays = 50

func (w *worker) odds(draws int, seed int64, progress func(float64, string)) (*Odds, error) {
	spread := DefaultSpread()
	if w.job.Spread != nil {
		spread = *w.job.Spread
	}
	if draws < 2 {
		return nil, fmt.Errorf("odds: %d draws; at least 2", draws)
	}
	tilt, err := w.tiltResponse(spread)
	if err != nil {
		return nil, err
	}
	n, squeezes := len(w.job.Stack.Layers), w.squeezes()
	days := make([]*draw, draws)
	for k := range days {
		days[k] = newDraw(seed, k, spread, n, squeezes)
	}
	worked := min(draws, workedDays)
	results := make([]outcome, draws)
	full := make([]outcome, min(checkedDays, draws))
	failed, checked := make([]bool, draws), make([]bool, draws)
	err = each(w.ctx, worked, progress, func(k int) {
		o, err := w.day(days[k], nil)
		if err != nil {
			failed[k] = true
			return
		}
		for i, t := range days[k].tilt {
			o.offset += t * tilt[i].offset
			o.edgeOffset += t * tilt[i].edgeOffset
			o.edgeCore += t * tilt[i].edgeCore
		}
		results[k] = o
		if k < len(full) {
			if full[k], err = w.day(days[k], days[k].tilt); err != nil {
				full[k] = o // counted by Checked
				return
			}
			checked[k] = true
		}
	})
	if err != nil {
		return nil, err
	}
	miss := 0.0
	if worked < draws {
		if miss, err = w.surface(spread, days, results, failed, worked); err != nil {
			return nil, err
		}
	}
	o, err := w.tally(spread, seed, days, results, full, failed, checked)
	if err == nil {
		o.Worked, o.SurfaceMiss = worked, miss
	}
	return o, err
}

// workedDays is the most draws that are worked in full; beyond, a surface fitted
// to them answers.
const workedDays = 1000

// surface answers the draws beyond those worked by a quadratic of the inputs,
// fitted to four fifths of the worked ones; miss is the root mean square of what
// it misses, in m of offset, on the other fifth.
func (w *worker) surface(s Spread, days []*draw, results []outcome, failed []bool, worked int) (miss float64, err error) {
	core := coreIndex(w.job)
	features := func(k int) []float64 {
		var x []float64
		for i, v := range days[k].inputs(s, core) {
			if s.has(i) {
				x = append(x, v)
			}
		}
		f := append([]float64{1}, x...)
		for i := range x {
			for j := i; j < len(x); j++ {
				f = append(f, x[i]*x[j])
			}
		}
		return f
	}
	var fit, test []int
	for k := range worked {
		switch {
		case failed[k]:
		case k%5 == 4:
			test = append(test, k)
		default:
			fit = append(fit, k)
		}
	}
	p := len(features(0))
	if len(fit) < 3*p || len(test) == 0 {
		return 0, fmt.Errorf("odds: only %d of %d draws could be worked; a surface needs %d", len(fit)+len(test), worked, 4*p)
	}
	a := mat.NewDense(len(fit), p, nil)
	b := mat.NewDense(len(fit), 3, nil)
	for i, k := range fit {
		a.SetRow(i, features(k))
		b.SetRow(i, []float64{results[k].offset, results[k].edgeOffset, results[k].edgeCore})
	}
	var qr mat.QR
	qr.Factorize(a)
	var c mat.Dense
	if err := qr.SolveTo(&c, false, b); err != nil {
		return 0, fmt.Errorf("odds: surface: %w", err)
	}
	at := func(k int) outcome {
		var o [3]float64
		for i, f := range features(k) {
			for col := range o {
				o[col] += f * c.At(i, col)
			}
		}
		return outcome{o[0], o[1], o[2]}
	}
	for _, k := range test {
		d := at(k).offset - results[k].offset
		miss += d * d
	}
	for k := worked; k < len(days); k++ {
		results[k] = at(k)
	}
	return math.Sqrt(miss / float64(len(test))), nil
}

// each does n things on all cores; the answers go by number, so their order
// never matters.
func each(ctx context.Context, n int, progress func(float64, string), do func(k int)) error {
	var wg sync.WaitGroup
	work := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range work {
				do(k)
			}
		}()
	}
	var err error
	for k := range n {
		if err = ctx.Err(); err != nil {
			break
		}
		work <- k
		if progress != nil && k%8 == 0 {
			progress(float64(k)/float64(n), "draws")
		}
	}
	close(work)
	wg.Wait()
	return err
}

// tally is the quantiles, the chance outside, and which input matters.
func (w *worker) tally(s Spread, seed int64, days []*draw, results, full []outcome, failed, checked []bool) (*Odds, error) {
	o := &Odds{Seed: seed, HasEdge: w.job.Blade != nil}
	var offsets, lines []float64
	var rows [][]float64
	core := coreIndex(w.job)
	outside := 0
	for k, r := range results {
		if failed[k] {
			o.Failed++
			continue
		}
		offsets = append(offsets, r.offset)
		rows = append(rows, days[k].inputs(s, core))
		if o.HasEdge {
			if !w.edgeInCore(r) {
				outside++
			}
			if v, ok := w.mismatch(r); ok {
				lines = append(lines, v)
			}
		}
		if checked[k] {
			o.Checked++
			o.TiltMiss = math.Max(o.TiltMiss, math.Abs(full[k].offset-r.offset))
		}
	}
	o.Draws = len(offsets)
	if o.Draws < 2 {
		return nil, fmt.Errorf("odds: all but %d of %d draws could not be worked", o.Draws, len(results))
	}
	o.Outside = float64(outside) / float64(o.Draws)
	o.Shares = shares(rows, offsets)
	o.Offset = quantiles(offsets)
	if len(lines) > 1 {
		o.Mismatch, o.HasMismatch = quantiles(lines), true
	}
	return o, nil
}

// quantiles is the 5, 50 and 95 % of values.
func quantiles(v []float64) (out [3]float64) {
	sorted := append([]float64(nil), v...)
	sort.Float64s(sorted)
	for i, p := range []float64{0.05, 0.50, 0.95} {
		out[i] = stat.Quantile(p, stat.LinInterp, sorted, nil)
	}
	return out
}

// edgeInCore says whether the edge of the blade lies within the core: margins
// (c − e)/2 ± d on both sides.
func (w *worker) edgeInCore(r outcome) bool {
	b := w.job.Blade
	d := r.edgeOffset - b.Offset
	half := (r.edgeCore - b.Edge) / 2
	return half+d > 0 && half-d > 0
}

// shares is how much of the variance each input makes, by linear regression on
// the independent inputs; what is left of 1 is beyond a straight line.
func shares(rows [][]float64, y []float64) []float64 {
	n, p := len(rows), len(rows[0])
	out := make([]float64, p)
	if n < 3*p || stat.Variance(y, nil) == 0 {
		return out
	}
	a := mat.NewDense(n, p+1, nil)
	b := mat.NewVecDense(n, y)
	for i, r := range rows {
		a.Set(i, 0, 1)
		for k, v := range r {
			a.Set(i, k+1, v)
		}
	}
	var normal mat.SymDense
	normal.SymOuterK(1, a.T())
	for k := range p + 1 {
		normal.SetSym(k, k, normal.At(k, k)+1e-9*float64(n))
	}
	var chol mat.Cholesky
	var rhs, c mat.VecDense
	rhs.MulVec(a.T(), b)
	if !chol.Factorize(&normal) || chol.SolveVecTo(&c, &rhs) != nil {
		return out
	}
	total := stat.Variance(y, nil)
	for k := range p {
		col := make([]float64, n)
		for i := range rows {
			col[i] = rows[i][k]
		}
		out[k] = c.AtVec(k+1) * c.AtVec(k+1) * stat.Variance(col, nil) / total
	}
	return out
}
