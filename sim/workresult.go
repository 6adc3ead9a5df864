package sim

import "billet/layers"

// Work is what the passes make of the bar. Sizes are cold sizes.
type Work struct {
	Start  Sizes
	Before []LayerSize // layers as laid up
	Passes []PassDone
	Final  BarEnd
	Causes []Cause
	// Flips compares flipping habits: the final offset under each.
	Flips []Flipped
	// Can says that every pass is within its machine's limits.
	Can  bool
	Odds *Odds
	// EdgeOffset is the offset where the blade's edge will lie, m.
	EdgeOffset Maybe
	// Remedies are what would make the offset smaller, best first by effort.
	Remedies []Remedy
	Planned  bool
	Heats    int
	// StartVolume is the stack's, Volume the finished bar's, Scaled that of the
	// steel that turned to scale, m3.
	StartVolume, Volume, Scaled float64
	// Measured is what was measured beside what was planned.
	Measured []Compared
	// ForgeTime is the time in and at the fire of all heats, s.
	ForgeTime float64
	// HeatTimes is each heat's time in and at the fire, s.
	HeatTimes []float64
	// Sections are the bar's end view at the start and after each pass, at
	// mid length.
	Sections []EndView
	// Plan says, in words, what limits each planned pass.
	Reasons []string
}

// Sizes of a bar, m.
type Sizes struct{ Thickness, Width, Length float64 }

// LayerSize is one layer of the bar, m.
type LayerSize struct {
	Material         string
	Thickness, Width float64
}

// PassDone is one pass as it went.
type PassDone struct {
	Number        int
	Tool          PassTool
	Edge          bool
	Heat          int
	DownA         bool
	Before, After Sizes
	StopHot       float64 // m, height to stop at, hot
	Temperature   float64 // K, mean of the section at first contact; 0 cold
	SideA, SideB  float64 // K, face centres at first contact
	Coldest       float64 // K, mean of the coldest station's section at its squeeze
	Force         float64 // N, the largest
	ForceRange    [2]float64
	Torque        float64 // N m a roll
	Power         float64 // W of the machine
	Rate          float64 // 1/s
	Within        bool
	Limits        []layers.Limit
	Bite          float64 // m along the bar
	Bites, Blows  int
	Seconds       float64 // from leaving the fire, or from the last pass; of the part that takes longest
	Parts         int     // the bar is heated and worked in; 1: whole
	StallsAt      float64 // m; 0: it doesn't
	WidthRange    [2]float64
	Layers        []LayerSize
	Offset        float64 // m, core toward A
	Tilt, Wave    float64 // m
	Welded        float64 // share of the way to a sure weld, least of the joints; 1: welded
	Pressure      float64 // Pa, mean on the die
	Warnings      []string
	LimitedBy     string // what set this pass's draft, where planned
}

// OffsetShare is the offset as a share of the thickness after the pass.
func (p PassDone) OffsetShare() float64 {
	if p.After.Thickness == 0 {
		return 0
	}
	return p.Offset / p.After.Thickness
}

// BarEnd is the bar after all passes.
type BarEnd struct {
	Sizes
	Layers       []LayerSize
	Offset       float64 // m
	Tilt, Wave   float64 // m
	Across       Line    // y, offset
	Along        Line    // x, offset
	AlongThick   []float64
	WidthRange   [2]float64
	OffsetRange  [2]float64 // by the range of the three-dimensional factor and of the spread
	CoreShare    float64
	WavePossible float64 // m, a wave that long dies may leave and the model can't follow
}

// Line is a quantity along a coordinate, m.
type Line struct{ At, Value []float64 }

// Cause is one reason for the offset and its share of it, m.
type Cause struct {
	Name   string
	Offset float64
}

// The causes of drift.
const (
	StartJackets = "start_jackets"
	Temperature  = "temperature"
	Friction     = "friction"
	StrengthName = "strength"
	ToolShape    = "tool_shape"
	Slip         = "slip"
	Losses       = "losses"
	Interaction  = "interaction"
)

// Flipped is the final offset under a flipping habit.
type Flipped struct {
	Habit     FlipHabit
	Offset    float64   // m
	ByPass    []float64 // m after each pass
	Tilt      float64
	IsCurrent bool
}

// Remedy is a change and the offset it leaves, m.
type Remedy struct {
	What   string
	Offset float64
	Effort int // 1 a habit, 2 a little work, 3 other stock or tools
}

// EndView is the bar's end at true scale, in the metal's frame, m.
type EndView struct {
	Pass   int // 0: before any
	Layers []LayerOutline
	Field  *layers.Field // the flow of this pass; nil where none was kept
	Offset float64
}

// LayerOutline is one layer's lower and upper edge, left to right.
type LayerOutline struct {
	Material     string
	Core         bool
	Lower, Upper []layers.Point
}

// Odds is what many draws of the unknown gave.
type Odds struct {
	Draws   int
	Failed  int // draws that no squeeze could be worked for; left out
	Seed    int64
	Offset  [3]float64 // m: 5, 50, 95 %
	Outside float64    // share with the edge outside the core
	HasEdge bool
	// Mismatch is core line A minus B half way along the blade: 5, 50, 95 %, m.
	Mismatch    [3]float64
	HasMismatch bool
	// Worked is how many draws were worked in full; the rest were answered by
	// a surface fitted to them, which misses the offset by SurfaceMiss, m, in
	// the root mean square on worked draws it was not fitted to.
	Worked      int
	SurfaceMiss float64
	// Shares is each input's share of the variance, in the order of
	// InputNames.
	Shares []float64
	// Checked is how many draws were also worked with the tilt in full.
	Checked int
	// TiltMiss is the largest difference, m, that the linear response to tilt
	// made on the draws that were also worked in full.
	TiltMiss float64
}
