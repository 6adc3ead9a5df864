package main

import (
	"billet/sim"
)

// workJSON is the answer of passes and drift as JSON. Keys end in their unit;
// null stands where a number does not apply: causes, flips, remedies and odds
// are null unless asked for.
type workJSON struct {
	heading
	Start    startJSON     `json:"start"`
	Passes   []passJSON    `json:"passes"`
	Final    finalJSON     `json:"final"`
	Causes   []driftCause  `json:"causes"` // they sum to the final offset
	Odds     *oddsJSON     `json:"odds"`
	Can      bool          `json:"can"`     // every pass is within its machine's limits
	Planned  bool          `json:"planned"` // passes found for the target
	Reasons  []string      `json:"reasons"` // of planned passes; one more where they fall short
	Heats    []heatJSON    `json:"heats"`
	Flips    []flipJSON    `json:"flips"`
	Remedies []remedyJSON  `json:"remedies"`
	Edge     *workEdgeJSON `json:"edge"`     // of the blade; drift alone
	Measured []seenJSON    `json:"measured"` // beside what was planned
}

type sizesJSON struct {
	Thickness number `json:"thickness_mm"`
	Width     number `json:"width_mm"`
	Length    number `json:"length_mm"`
}

type startJSON struct {
	sizesJSON
	Layers []namedLayerJSON `json:"layers"`
}

type namedLayerJSON struct {
	Material string `json:"material"`
	layerJSON
}

type layerJSON struct {
	Thickness number `json:"thickness_mm"`
	Width     number `json:"width_mm"`
}

type passJSON struct {
	Number        int         `json:"number"`
	Tool          string      `json:"tool"`
	Edge          bool        `json:"edge"`
	Heat          *int        `json:"heat"` // null before any
	Down          string      `json:"down"`
	Before        sizesJSON   `json:"before"`
	After         sizesJSON   `json:"after"`
	StopHot       number      `json:"stop_hot_mm"`
	Temperature   *number     `json:"temperature_c"` // null where worked cold
	SideA         *number     `json:"side_a_c"`
	SideB         *number     `json:"side_b_c"`
	Coldest       *number     `json:"coldest_place_c"`
	Force         *number     `json:"force_kn"`
	ForceRange    rangeJSON   `json:"force_kn_range"`
	Torque        *number     `json:"torque_nm"`
	Power         *number     `json:"power_kw"`
	Rate          *number     `json:"strain_rate_per_s"`
	Within        bool        `json:"within_limits"`
	StallsAt      *number     `json:"stalls_at_mm"`
	Bite          *number     `json:"bite_mm"`
	Bites         *int        `json:"bites"`
	Blows         *int        `json:"blows"`
	Seconds       number      `json:"took_s"`
	WidthRange    rangeJSON   `json:"width_mm_range"`
	Layers        []layerJSON `json:"layers"`
	Offset        number      `json:"core_offset_mm"`
	OffsetPercent number      `json:"core_offset_percent"`
	Tilt          number      `json:"core_tilt_mm"`
	Wave          number      `json:"core_wave_mm"`
	Welded        number      `json:"weld_set_percent"` // of the least of the joints
	LimitedBy     string      `json:"limited_by"`
}

type finalJSON struct {
	sizesJSON
	Layers        []namedLayerJSON `json:"layers"`
	Offset        number           `json:"core_offset_mm"`
	OffsetPercent number           `json:"core_offset_percent"`
	OffsetRange   rangeJSON        `json:"core_offset_mm_range"`
	Tilt          number           `json:"core_tilt_mm"`
	Wave          number           `json:"core_wave_mm"`
	WavePossible  number           `json:"core_wave_possible_mm"`
	CoreShare     number           `json:"core_share_percent"`
	WidthRange    rangeJSON        `json:"width_mm_range"`
	Across        acrossJSON       `json:"across"`
	Along         alongJSON        `json:"along"`
}

type acrossJSON struct {
	Y      []number `json:"y_mm"`
	Offset []number `json:"offset_mm"`
}

type alongJSON struct {
	X         []number `json:"x_mm"`
	Offset    []number `json:"offset_mm"`
	Thickness []number `json:"thickness_mm"`
}

type driftCause struct {
	Cause  string `json:"cause"`
	Offset number `json:"offset_mm"`
}

type heatJSON struct {
	Number int    `json:"number"`
	Fire   number `json:"in_fire_s"`
}

type flipJSON struct {
	Habit   string   `json:"habit"`
	Offset  number   `json:"offset_mm"`
	ByPass  []number `json:"by_pass_mm"`
	Current bool     `json:"current"`
}

type remedyJSON struct {
	What   string `json:"what"`
	Offset number `json:"offset_mm"`
	Effort int    `json:"effort"` // 1 a habit, 2 a little work, 3 other stock or tools
}

// workEdgeJSON is the core where the blade's edge will lie.
type workEdgeJSON struct {
	Offset   number  `json:"core_offset_mm"`
	InCore   *bool   `json:"in_core"`
	Mismatch *number `json:"mismatch_mm"` // core line A minus B
}

// seenJSON is one row of what was measured, cold sizes; null: not measured.
type seenJSON struct {
	After         int       `json:"after"`
	Thickness     *number   `json:"thickness_mm"`
	Width         *number   `json:"width_mm"`
	Offset        *number   `json:"core_offset_mm"`
	Planned       sizesJSON `json:"planned"`
	PlannedOffset number    `json:"planned_core_offset_mm"`
	Says          []string  `json:"says"`
}

func seenOf(all []sim.Compared) []seenJSON {
	out := []seenJSON{}
	for _, m := range all {
		out = append(out, seenJSON{m.After, maybe(m.Thickness, millimetres), maybe(m.Width, millimetres), maybe(m.Offset, millimetres),
			sizesOf(m.Planned), millimetres(m.PlannedOffset), listOf(m.Says)})
	}
	return out
}

type oddsJSON struct {
	Draws       int           `json:"draws"`
	Seed        int64         `json:"seed"`
	Offset      quantileJSON  `json:"offset_mm"`
	Outside     *number       `json:"outside_percent"` // null without a blade
	Mismatch    *quantileJSON `json:"mismatch_mm"`     // core line A minus B; null without a blade
	Shares      []shareJSON   `json:"variance_shares"`
	Worked      int           `json:"worked"`          // draws worked in full; a surface fitted to them answers the rest
	SurfaceMiss number        `json:"surface_miss_mm"` // root mean square, on draws it was not fitted to
	Failed      int           `json:"failed"`          // draws that could not be worked, left out
	Checked     int           `json:"checked"`         // draws also worked with the tilt in full
	TiltMiss    number        `json:"tilt_miss_mm"`    // largest difference that made
}

type quantileJSON struct {
	P05 number `json:"p05"`
	P50 number `json:"p50"`
	P95 number `json:"p95"`
}

type shareJSON struct {
	Input   string `json:"input"`
	Percent number `json:"percent"`
}

// workResult turns the passes into their JSON form. name is the command's.
func workResult(name string, r *sim.Result) any {
	w := r.Work
	out := workJSON{
		heading: newHeading(name, r.Job.Title, r),
		Start:   startJSON{sizesOf(w.Start), namedLayers(w.Before)},
		Passes:  []passJSON{},
		Final:   finalOf(w.Final),
		Can:     w.Can, Planned: w.Planned, Reasons: listOf(w.Reasons), Heats: []heatJSON{},
		Odds: oddsOf(w.Odds), Edge: workEdgeOf(r), Measured: seenOf(w.Measured),
	}
	for _, p := range w.Passes {
		out.Passes = append(out.Passes, passOf(p))
	}
	for i, t := range w.HeatTimes {
		out.Heats = append(out.Heats, heatJSON{i + 1, seconds(t)})
	}
	for _, c := range causesToSum(w) {
		out.Causes = append(out.Causes, driftCause{c.Name, number(c.Offset)})
	}
	for _, f := range w.Flips {
		out.Flips = append(out.Flips, flipJSON{habitNames[f.Habit], millimetres(f.Offset), each(f.ByPass, millimetres), f.IsCurrent})
	}
	if w.Flips != nil {
		out.Remedies = []remedyJSON{}
	}
	for _, m := range w.Remedies {
		out.Remedies = append(out.Remedies, remedyJSON{m.What, millimetres(m.Offset), m.Effort})
	}
	return out
}

// causesToSum are the causes, mm, rounded as they will be written, what
// rounding leaves put into the interaction, so that what is written sums to
// the offset as written.
func causesToSum(w *sim.Work) []sim.Cause {
	if len(w.Causes) == 0 {
		return nil
	}
	out := make([]sim.Cause, len(w.Causes))
	left := float64(millimetres(w.Final.Offset).rounded())
	for i, c := range w.Causes {
		out[i] = sim.Cause{Name: c.Name, Offset: float64(millimetres(c.Offset).rounded())}
		left -= out[i].Offset
	}
	out[len(out)-1].Offset += left
	return out
}

func sizesOf(s sim.Sizes) sizesJSON {
	return sizesJSON{millimetres(s.Thickness), millimetres(s.Width), millimetres(s.Length)}
}

func layersOf(ls []sim.LayerSize) []layerJSON {
	out := make([]layerJSON, len(ls))
	for i, l := range ls {
		out[i] = layerJSON{millimetres(l.Thickness), millimetres(l.Width)}
	}
	return out
}

func namedLayers(ls []sim.LayerSize) []namedLayerJSON {
	out := make([]namedLayerJSON, len(ls))
	for i, l := range layersOf(ls) {
		out[i] = namedLayerJSON{ls[i].Material, l}
	}
	return out
}

// toolNames are the names of the tools in the job file and in results.
var toolNames = [...]string{sim.ByPress: "press", sim.ByRolls: "rolls", sim.ByHammer: "hammer", sim.ByGrind: "grind", sim.ByRestack: "restack"}

// habitNames are the names of the flipping habits in the job file and in
// results.
var habitNames = [...]string{sim.FlipEveryHeat: "every heat", sim.FlipEveryPass: "every pass", sim.FlipNever: "never"}

func sideName(a bool) string {
	if a {
		return "A"
	}
	return "B"
}

// positive is a number that applies where it is more than nought.
func positive(v float64, f func(float64) number) *number { return optional(v > 0, f(v)) }

func count(n int) *int {
	if n <= 0 {
		return nil
	}
	return &n
}

func kilo(v float64) number { return number(v / 1e3) }

func passOf(p sim.PassDone) passJSON {
	plain := func(v float64) number { return number(v) }
	return passJSON{
		Number: p.Number, Tool: toolNames[p.Tool], Edge: p.Edge, Heat: count(p.Heat), Down: sideName(p.DownA),
		Before: sizesOf(p.Before), After: sizesOf(p.After), StopHot: millimetres(p.StopHot),
		Temperature: positive(p.Temperature, celsius), SideA: positive(p.SideA, celsius), SideB: positive(p.SideB, celsius),
		Coldest: positive(p.Coldest, celsius), Force: positive(p.Force, kilo),
		ForceRange: span(p.ForceRange, kilo, p.Force > 0),
		Torque:     positive(p.Torque, plain), Power: positive(p.Power, kilo), Rate: positive(p.Rate, plain),
		Within: p.Within, StallsAt: positive(p.StallsAt, millimetres), Bite: positive(p.Bite, millimetres),
		Bites: count(p.Bites), Blows: count(p.Blows), Seconds: seconds(p.Seconds),
		WidthRange: span(p.WidthRange, millimetres, p.WidthRange[1] > 0), Layers: layersOf(p.Layers),
		Offset: millimetres(p.Offset), OffsetPercent: number(100 * p.OffsetShare()), Tilt: millimetres(p.Tilt), Wave: millimetres(p.Wave),
		Welded: number(100 * p.Welded), LimitedBy: p.LimitedBy,
	}
}

// span is a range of which both ends are known.
func span(r [2]float64, f func(float64) number, ok bool) rangeJSON {
	return rangeJSON{true, ok, f(r[0]), f(r[1])}
}

func finalOf(e sim.BarEnd) finalJSON {
	share := 0.0
	if e.Thickness > 0 {
		share = e.Offset / e.Thickness
	}
	return finalJSON{
		sizesJSON: sizesOf(e.Sizes), Layers: namedLayers(e.Layers),
		Offset: millimetres(e.Offset), OffsetPercent: number(100 * share), OffsetRange: span(e.OffsetRange, millimetres, true),
		Tilt: millimetres(e.Tilt), Wave: millimetres(e.Wave), WavePossible: millimetres(e.WavePossible),
		CoreShare: number(100 * e.CoreShare), WidthRange: span(e.WidthRange, millimetres, true),
		Across: acrossJSON{each(e.Across.At, millimetres), each(e.Across.Value, millimetres)},
		Along:  alongJSON{each(e.Along.At, millimetres), each(e.Along.Value, millimetres), each(e.AlongThick, millimetres)},
	}
}

func workEdgeOf(r *sim.Result) *workEdgeJSON {
	if !r.Work.EdgeOffset.OK {
		return nil
	}
	out := &workEdgeJSON{Offset: millimetres(r.Work.EdgeOffset.Value)}
	if g := r.Ground; g != nil {
		out.InCore, out.Mismatch = &g.Answer.InCore, maybe(g.Answer.Mismatch, millimetres)
	}
	return out
}

// maybe is a number that may not be there.
func maybe(v *float64, f func(float64) number) *number {
	if v == nil {
		return nil
	}
	n := f(*v)
	return &n
}

func oddsOf(o *sim.Odds) *oddsJSON {
	if o == nil {
		return nil
	}
	out := &oddsJSON{Draws: o.Draws, Seed: o.Seed, Failed: o.Failed, Checked: o.Checked, TiltMiss: millimetres(o.TiltMiss),
		Worked: o.Worked, SurfaceMiss: millimetres(o.SurfaceMiss),
		Offset:  quantileJSON{millimetres(o.Offset[0]), millimetres(o.Offset[1]), millimetres(o.Offset[2])},
		Outside: optional(o.HasEdge, number(100*o.Outside)), Shares: []shareJSON{}}
	if o.HasMismatch {
		out.Mismatch = &quantileJSON{millimetres(o.Mismatch[0]), millimetres(o.Mismatch[1]), millimetres(o.Mismatch[2])}
	}
	for i, s := range o.Shares {
		out.Shares = append(out.Shares, shareJSON{sim.InputNames[i], number(100 * s)})
	}
	return out
}
