package main

import (
	"strconv"

	"billet/sim"
)

// workCSV is the passes as a table, a row a pass. Cells are empty where a
// number does not apply.
func workCSV(r *sim.Result) []byte {
	rows := [][]string{{"number", "tool", "edge", "heat", "down", "thickness_mm", "width_mm", "length_mm", "stop_hot_mm",
		"temperature_c", "side_a_c", "side_b_c", "force_kn", "torque_nm", "power_kw", "strain_rate_per_s", "within_limits",
		"core_offset_mm", "core_offset_percent", "core_tilt_mm", "core_wave_mm"}}
	for _, done := range r.Work.Passes {
		p := passOf(done)
		heat := ""
		if p.Heat != nil {
			heat = strconv.Itoa(*p.Heat)
		}
		rows = append(rows, []string{strconv.Itoa(p.Number), p.Tool, strconv.FormatBool(p.Edge), heat, p.Down,
			cell(&p.After.Thickness), cell(&p.After.Width), cell(&p.After.Length), cell(&p.StopHot),
			cell(p.Temperature), cell(p.SideA), cell(p.SideB), cell(p.Force), cell(p.Torque), cell(p.Power), cell(p.Rate),
			strconv.FormatBool(p.Within), cell(&p.Offset), cell(&p.OffsetPercent), cell(&p.Tilt), cell(&p.Wave)})
	}
	return table(rows)
}

// cell is a number in a table, to a thousandth; empty where there is none.
func cell(n *number) string {
	if n == nil {
		return ""
	}
	text := strconv.FormatFloat(float64(*n), 'f', 3, 64)
	if text == "-0.000" {
		return "0.000"
	}
	return text
}
