package main

import (
	"billet/sim"
	"billet/sim/blade"
)

// grindJSON is the answer of grind as JSON. Scalars are those half way along
// the blade, but in_core and least_thickness_mm, which hold all along.
type grindJSON struct {
	heading
	SideA     bladeSideJSON  `json:"side_a"`
	SideB     bladeSideJSON  `json:"side_b"`
	Mismatch  *number        `json:"mismatch_mm"`
	Edge      edgeJSON       `json:"edge"`
	Least     *number        `json:"least_thickness_mm"`
	Along     bladeAlongJSON `json:"along"`
	OK        bool           `json:"ok"`
	Worst     *number        `json:"worst_mismatch_mm"` // by size along the blade
	Bar       number         `json:"bar_thickness_mm"`  // half way along the blade
	NarrowBy  number         `json:"too_narrow_mm"`
	ShortBy   number         `json:"too_short_mm"`
	FromStack bool           `json:"from_stack"`
	Rescue    []rescueJSON   `json:"rescue"`
}

type bladeSideJSON struct {
	CoreLine *number `json:"core_line_mm"`
	Jacket   number  `json:"jacket_at_spine_mm"`
	Pits     bool    `json:"pits_cleared"`
	Depth    number  `json:"least_off_mm"`
}

type edgeJSON struct {
	InCore  bool   `json:"in_core"`
	MarginA number `json:"core_margin_a_mm"`
	MarginB number `json:"core_margin_b_mm"`
	Offset  number `json:"core_offset_mm"`
}

type bladeAlongJSON struct {
	X       []number  `json:"x_mm"`
	Heel    []number  `json:"from_heel_mm"`
	LineA   []*number `json:"core_line_a_mm"`
	LineB   []*number `json:"core_line_b_mm"`
	MarginA []number  `json:"margin_a_mm"`
	MarginB []number  `json:"margin_b_mm"`
}

type rescueJSON struct {
	Move     string  `json:"move"`
	Shift    number  `json:"shift_mm"`
	Tilt     number  `json:"tilt_rad"`
	Turn     number  `json:"turn_rad"`
	InCore   bool    `json:"in_core"`
	Margin   number  `json:"margin_mm"`
	Mismatch *number `json:"mismatch_mm"`
	Needs    number  `json:"needs_thickness_mm"`
	Fits     bool    `json:"fits"`
}

func grindResult(name string, r *sim.Result) any {
	g, a := r.Ground, r.Ground.Answer
	m := a.Mid
	return grindJSON{
		heading: newHeading(name, r.Job.Title, r),
		SideA:   bladeSideOf(m.A, a.PitsA, a.DepthA), SideB: bladeSideOf(m.B, a.PitsB, a.DepthB),
		Mismatch: maybe(a.Mismatch, millimetres),
		Edge:     edgeJSON{a.InCore, millimetres(m.MarginA), millimetres(m.MarginB), millimetres(m.D)},
		Least:    positive(a.Least.Thickness, millimetres), Along: bladeAlongOf(a.Along),
		OK: g.OK(), Worst: maybe(a.Worst, millimetres), Bar: millimetres(a.Thickness),
		NarrowBy: millimetres(a.NarrowBy), ShortBy: millimetres(a.ShortBy), FromStack: g.FromStack, Rescue: rescueOf(a.Rescue),
	}
}

func bladeSideOf(f blade.Face, pits bool, depth float64) bladeSideJSON {
	return bladeSideJSON{maybe(f.CoreLine, millimetres), millimetres(f.Jacket), pits, millimetres(depth)}
}

func bladeAlongOf(along []blade.Station) bladeAlongJSON {
	var out bladeAlongJSON
	for _, s := range along {
		out.X, out.Heel = append(out.X, millimetres(s.X)), append(out.Heel, millimetres(s.S))
		out.LineA, out.LineB = append(out.LineA, maybe(s.A.CoreLine, millimetres)), append(out.LineB, maybe(s.B.CoreLine, millimetres))
		out.MarginA, out.MarginB = append(out.MarginA, millimetres(s.MarginA)), append(out.MarginB, millimetres(s.MarginB))
	}
	return out
}

func rescueOf(rs []blade.Rescue) []rescueJSON {
	out := []rescueJSON{}
	for _, r := range rs {
		out = append(out, rescueJSON{r.Move.String(), millimetres(r.Shift), number(r.Tilt), number(r.Turn), r.InCore, millimetres(r.Margin),
			maybe(r.Mismatch, millimetres), millimetres(r.Needs), r.Fits})
	}
	return out
}

// grindCSV is the core lines and margins along the blade, heel first.
func grindCSV(r *sim.Result) []byte {
	rows := [][]string{{"x_mm", "from_heel_mm", "core_line_a_mm", "core_line_b_mm", "margin_a_mm", "margin_b_mm"}}
	l := bladeAlongOf(r.Ground.Answer.Along)
	for i := range l.X {
		rows = append(rows, []string{cell(&l.X[i]), cell(&l.Heel[i]), cell(l.LineA[i]), cell(l.LineB[i]), cell(&l.MarginA[i]), cell(&l.MarginB[i])})
	}
	return table(rows)
}
