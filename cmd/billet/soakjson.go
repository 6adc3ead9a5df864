package main

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"billet/sim"
)

// soakJSON is the answer of soak as JSON. Keys end in their unit; null stands
// where a number does not apply.
type soakJSON struct {
	heading
	Stages  []stageJSON  `json:"stages"`
	Answers answersJSON  `json:"answers"`
	History historyJSON  `json:"history"`
	RunOn   *historyJSON `json:"run_on"` // after the given stages, if left in
	Energy  energyJSON   `json:"energy"`
	Grid    gridJSON     `json:"grid"`
	Limits  []limitJSON  `json:"limits"`
	Advice  []string     `json:"advice"`
	Causes  []causeJSON  `json:"range_causes,omitzero"` // widest first
}

// causeJSON is one thing that is not known and what it alone does to the soak.
type causeJSON struct {
	What string    `json:"what"`
	Soak rangeJSON `json:"soak_s_range"`
}

type stageJSON struct {
	In           string      `json:"in"`
	Start        number      `json:"start_s"`
	End          number      `json:"end_s"`
	Reached      bool        `json:"reached"`
	Skin         number      `json:"skin_c"`
	Core         number      `json:"core_c"`
	ColdestJoint *number     `json:"coldest_joint_c"`
	Hottest      number      `json:"hottest_c"`
	Coldest      number      `json:"coldest_c"`
	Faces        facesJSON   `json:"faces_c"`
	Profile      profileJSON `json:"profile"`
}

type facesJSON struct {
	Top    *number `json:"top"`
	Bottom *number `json:"bottom"`
	Left   *number `json:"left"`
	Right  *number `json:"right"`
	Front  *number `json:"front"`
	Back   *number `json:"back"`
}

type profileJSON struct {
	Z           []number `json:"z_mm"`
	Temperature []number `json:"temperature_c"`
}

type answersJSON struct {
	SkinAtWeld   *number `json:"skin_at_weld_s"`
	JointsAtWeld *number `json:"joints_at_weld_s"`
	CoreAtWeld   *number `json:"core_at_weld_s"`
	Lag          *number `json:"lag_s"`
	PullForFlux  *number `json:"pull_for_flux_s"`
	Soak         *number `json:"soak_s"`
	Overheats    *number `json:"overheats_s"`
	Window       *number `json:"window_s"`
	// Low and high of each, left out with --ranges off; high is null where
	// it may never come.
	SkinRange      rangeJSON `json:"skin_at_weld_s_range,omitzero"`
	JointsRange    rangeJSON `json:"joints_at_weld_s_range,omitzero"`
	CoreRange      rangeJSON `json:"core_at_weld_s_range,omitzero"`
	LagRange       rangeJSON `json:"lag_s_range,omitzero"`
	FluxRange      rangeJSON `json:"pull_for_flux_s_range,omitzero"`
	SoakRange      rangeJSON `json:"soak_s_range,omitzero"`
	OverheatsRange rangeJSON `json:"overheats_s_range,omitzero"`
	WindowRange    rangeJSON `json:"window_s_range,omitzero"`
	// What overheats first, in words; null with Overheats.
	OverheatsWhat *string `json:"overheats_what"`
}

type historyJSON struct {
	Time         []number `json:"time_s"`
	Skin         []number `json:"skin_c"`
	Core         []number `json:"core_c"`
	ColdestJoint []number `json:"coldest_joint_c"` // null with one layer
}

type energyJSON struct {
	TakenUp      number  `json:"taken_up_kj"`
	ThroughFaces number  `json:"through_faces_kj"`
	Imbalance    float64 `json:"imbalance"`
}

type gridJSON struct {
	Dims          int    `json:"dims"`
	Cells         int    `json:"cells"`
	Steps         int    `json:"steps"`
	ErrorEstimate number `json:"error_estimate_c"`
}

type limitJSON struct {
	Layer    int    `json:"layer"` // from 1 at side B
	Material string `json:"material"`
	Limit    number `json:"limit_c"`
	Solidus  number `json:"solidus_c"`
}

// soakResult turns the result into its JSON form. name is the command's.
func soakResult(name string, r *sim.Result) soakJSON {
	s := r.Soak
	out := soakJSON{
		heading: newHeading(name, r.Job.Title, r),
		Stages:  []stageJSON{},
		Answers: answersOf(r),
		History: historyOf(s.History),
		Energy:  energyJSON{kilojoules(s.Energy.TakenUp), kilojoules(s.Energy.ThroughFaces), s.Energy.Imbalance},
		Grid:    gridJSON{s.Grid.Dims, s.Grid.Cells, s.Grid.Steps, number(s.Grid.ErrorEstimate)},
		Limits:  []limitJSON{},
		Advice:  listOf(s.Advice),
	}
	for _, e := range s.Stages {
		out.Stages = append(out.Stages, stageOf(e))
	}
	for _, l := range s.Limits {
		out.Limits = append(out.Limits, limitJSON{l.Layer + 1, l.Material, celsius(l.Limit), celsius(l.Solidus)})
	}
	if s.Ranges != nil {
		out.Causes = []causeJSON{}
		for _, c := range s.Ranges.Causes {
			out.Causes = append(out.Causes, causeJSON{c.What, rangeOf(sim.Range{Low: c.Low, High: c.High, OK: true})})
		}
	}
	if len(s.RunOn.Time) > 0 {
		on := historyOf(s.RunOn)
		out.RunOn = &on
	}
	return out
}

func stageOf(e sim.StageEnd) stageJSON {
	face := func(f sim.Face) *number { return optional(e.FaceIs[f], celsius(e.Faces[f])) }
	return stageJSON{
		In: placeNames[e.In], Start: seconds(e.Start), End: seconds(e.End), Reached: e.Reached,
		Skin: celsius(e.Skin), Core: celsius(e.Core), ColdestJoint: optional(e.HasJoints, celsius(e.ColdestJoint)),
		Hottest: celsius(e.Hottest), Coldest: celsius(e.Coldest),
		Faces: facesJSON{Top: face(sim.Top), Bottom: face(sim.Bottom), Left: face(sim.Left), Right: face(sim.Right),
			Front: face(sim.Front), Back: face(sim.Back)},
		Profile: profileJSON{each(e.Profile.Z, millimetres), each(e.Profile.Temperature, celsius)},
	}
}

// placeNames are the names of the places in the job file and in results.
var placeNames = [...]string{sim.InForge: "forge", sim.InAir: "air"}

func answersOf(r *sim.Result) answersJSON {
	a := r.Soak.Answers
	at := func(m sim.Maybe) *number { return optional(m.OK, seconds(m.Value)) }
	out := answersJSON{SkinAtWeld: at(a.SkinAtWeld), JointsAtWeld: at(a.JointsAtWeld), CoreAtWeld: at(a.CoreAtWeld), Lag: at(a.Lag),
		PullForFlux: at(a.PullForFlux), Soak: at(a.Soak), Overheats: at(a.Overheats), Window: at(a.Window)}
	if a.Overheats.OK {
		out.OverheatsWhat = &a.OverheatsAt
	}
	if g := r.Soak.Ranges; g != nil {
		out.SkinRange, out.JointsRange, out.CoreRange, out.LagRange = rangeOf(g.SkinAtWeld), rangeOf(g.JointsAtWeld), rangeOf(g.CoreAtWeld), rangeOf(g.Lag)
		out.FluxRange, out.SoakRange, out.OverheatsRange, out.WindowRange = rangeOf(g.PullForFlux), rangeOf(g.Soak), rangeOf(g.Overheats), rangeOf(g.Window)
	}
	return out
}

func historyOf(h sim.History) historyJSON {
	out := historyJSON{Time: each(h.Time, seconds), Skin: each(h.Skin, celsius), Core: each(h.Core, celsius)}
	if len(h.ColdestJoint) > 0 {
		out.ColdestJoint = each(h.ColdestJoint, celsius)
	}
	return out
}

// soakCSV is the history as a table, a row a step. The column of the coldest
// joint is empty with one layer.
func soakCSV(r *sim.Result) []byte {
	h := r.Soak.History
	b := &bytes.Buffer{}
	w := csv.NewWriter(b)
	w.Write([]string{"time_s", "skin_c", "core_c", "coldest_joint_c"})
	text := func(n number) string { return strconv.FormatFloat(float64(n), 'f', 3, 64) }
	for i := range h.Time {
		joint := ""
		if len(h.ColdestJoint) > 0 {
			joint = text(celsius(h.ColdestJoint[i]))
		}
		w.Write([]string{text(seconds(h.Time[i])), text(celsius(h.Skin[i])), text(celsius(h.Core[i])), joint})
	}
	w.Flush()
	return b.Bytes() // a buffer takes everything, so the writer has no error to tell
}
