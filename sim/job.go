package sim

import (
	"billet/sim/heat"
	"billet/sim/steel"
)

// Job is one billet and everything that will be done to it. All quantities
// are SI, temperatures in kelvin, sizes cold. A pointer that is nil means the
// job does not have that part (no press, no blade asked for).
type Job struct {
	Title string
	Units Units

	Stack    Stack
	Forge    Forge
	Air      Surround
	Weld     Weld
	Heats    []Stage // never empty after Defaults
	Shop     *Shop
	Press    *Press
	Rolls    *Rolls
	Hammer   *Hammer
	Handling Handling
	Passes   []Pass
	Measured []Measured
	Target   *Target
	Blade    *Blade
	Stock    *Stock
	Harden   *Harden
	Spread   *Spread

	// fit is what the timed bar said, once it has been worked out.
	fit *BarFit
	// strength is the factor on every layer's strength that a measured squeeze
	// gave; 0: none.
	strength float64

	// Assumed lists, in plain sentences, what the job file left open and
	// what was taken instead.
	Assumed []string
}

// Units is the system in which results are shown.
type Units int

// The systems of units.
const (
	Metric Units = iota
	Inch
)

// Stack is the billet as tacked together, cold.
type Stack struct {
	Width  float64 // m, left to right (y)
	Length float64 // m, front to back (x)
	Start  float64 // K, temperature
	Layers []Layer // from side B (down at the start) to side A
}

// Layer is one piece of the stack.
type Layer struct {
	Material  steel.Material
	Thickness float64 // m
	Core      bool
	Joint     Joint // the joint under this layer; unused in the first
}

// JointState says how two layers touch.
type JointState = heat.JointState

// The states of a joint.
const (
	Ground = heat.Ground // ground and tight, tacked or clamped
	Scaled = heat.Scaled // tight but with scale between
	Gapped = heat.Gapped // an air gap of stated width
	Fluxed = heat.Fluxed // filled with flux, liquid when hot
	Welded = heat.Welded // perfect
	Given  = heat.Given  // a known contact conductance
)

// Joint is the contact between two layers.
type Joint = heat.Joint

// ForgeKind is what heats the billet.
type ForgeKind int

// The kinds of forge.
const (
	Gas ForgeKind = iota
	Coal
	Electric
	Induction
)

// Atmosphere is the flame: lean burns with spare air, rich with spare gas.
type Atmosphere int

// The atmospheres.
const (
	Neutral Atmosphere = iota
	Lean
	Rich
)

// Series is a value against time, linear between rows and held at its ends.
// One row is a constant.
type Series = heat.Series

// Constant is a Series with one value.
func Constant(v float64) Series { return heat.Constant(v) }

// Surround is what one face sees: q = Emissivity·σ·(Wall⁴ − T⁴) + Film·(Gas − T).
type Surround = heat.Surround

// Face numbers the six faces of the billet.
type Face = heat.Face

// The faces: bottom is side B at the start, top side A.
const (
	Bottom = heat.Bottom
	Top    = heat.Top
	Left   = heat.Left
	Right  = heat.Right
	Front  = heat.Front
	Back   = heat.Back
)

// FaceNames are the faces' names in the job file and in results, by Face.
var FaceNames = [6]string{"bottom", "top", "left", "right", "front", "back"}

// Forge is the heat source.
type Forge struct {
	Kind       ForgeKind
	Whole      Surround
	Faces      [6]*Surround // nil: as Whole
	Atmosphere Atmosphere
	Chamber    float64 // m, length that is in the heat
	// FilmGiven and EmissivityGiven say that the job stated them; otherwise
	// they are taken, and carry a range.
	FilmGiven, EmissivityGiven bool
	Lit                        float64 // s it burned before the work went in; 0: not given
	Burner                     float64 // W; 0: not given
	Lining                     float64 // m; 0: not given
	Frequency                  float64 // Hz, induction
	Power                      float64 // W, induction
}

// Surround returns what face f sees in the forge.
func (f Forge) Surround(face Face) Surround {
	if s := f.Faces[face]; s != nil {
		return *s
	}
	return f.Whole
}

// Weld is what the smith wants of the soak.
type Weld struct {
	Heat float64 // K, welding heat wanted at every joint
	Flux float64 // K, skin temperature at which to pull for flux
	Hold float64 // s at welding heat
}

// Place is where a stage is.
type Place int

// The places a billet can be.
const (
	InForge Place = iota
	InAir
)

// Until is what ends a stage.
type Until int

// The ends of a stage.
const (
	UntilTime   Until = iota
	UntilSkin         // centre of the top face
	UntilCore         // middle of the core layer
	UntilJoints       // coldest spot of all joints
)

// Stage is one part of a heat.
type Stage struct {
	In          Place
	Until       Until
	Temperature float64 // K, with UntilSkin, UntilCore, UntilJoints
	Time        float64 // s, with UntilTime
	Hold        float64 // s after the end is met
}

// Shop holds what was timed and measured in this shop with a plain bar.
type Shop struct {
	Bar     *Bar
	Seen    []Seen
	Squeeze *Squeeze
}

// Bar is a plain test bar.
type Bar struct {
	Material                 steel.Material
	Thickness, Width, Length float64 // m
}

// Seen is a temperature read or judged by colour at a time from cold.
type Seen struct {
	Time        float64 // s
	Temperature float64 // K
	Plus, Minus float64 // K, how far off the reading may be
	Text        string  // as written
}

// Squeeze is a measured squeeze of the plain bar.
type Squeeze struct {
	From, To, Width float64 // m
	Temperature     float64 // K
	Pressure        float64 // Pa on the gauge
}

// Die is a flat or crowned press tool.
type Die struct {
	Along, Across float64 // m, along the bar, across the bar
	Temperature   float64 // K
	Crown         float64 // m, radius along the bar; 0: flat
}

// PumpPoint is the ram's speed at a pressure.
type PumpPoint struct {
	Pressure float64 // Pa
	Speed    float64 // m/s
}

// Press is a hydraulic press. Force is the limit; where bore and pressure
// are given it has been worked out from them. Where a pump is given with a
// force, bore and pressure have been worked out so that the force comes at
// the pump's last pressure; Speed is then the pump's first.
type Press struct {
	Force                       float64 // N
	Bore, Pressure              float64 // m, Pa; 0: not given
	Top, Bottom                 Die
	Speed                       float64 // m/s under load
	Pump                        []PumpPoint
	FrictionTop, FrictionBottom float64 // Tresca factor m
}

// Driven says which rolls are driven.
type Driven int

// Which rolls are driven.
const (
	DrivenBoth Driven = iota
	DrivenTop
	DrivenBottom
)

// Rolls is a two-high mill.
type Rolls struct {
	DiameterTop, DiameterBottom float64 // m
	Speed                       float64 // rad/s
	Power                       float64 // W
	Force                       float64 // N; 0: no limit given
	Friction                    float64
	Driven                      Driven
	Temperature                 float64 // K
}

// Hammer is a hand or power hammer over an anvil.
type Hammer struct {
	Energy float64 // J a blow
	Rate   float64 // 1/s
	Face   float64 // m
	Anvil  float64 // K
}

// FlipHabit is when the smith turns the bar over.
type FlipHabit int

// The flipping habits.
const (
	FlipEveryHeat FlipHabit = iota
	FlipEveryPass
	FlipNever
)

// Handling is what happens between forge and tool.
type Handling struct {
	Transfer  float64 // s
	Rest      float64 // s on the lower die before the squeeze
	WorkAbove float64 // K
	Reheat    Stage   // how heats after the weld end
	Flip      FlipHabit
	Handle    *Handle
}

// Handle is a bar welded to one end.
type Handle struct {
	Thickness, Width, Length float64 // m
	At                       Face    // Front or Back
}

// PassTool is what does a pass.
type PassTool int

// The tools of a pass.
const (
	ByPress PassTool = iota
	ByRolls
	ByHammer
	ByGrind
	ByRestack
)

// Bond overrides the state of all joints in a pass.
type Bond struct {
	Welded bool
	Factor float64 // Tresca factor of a slipping joint, when not Welded
}

// Pass is one pass as prescribed. Exactly one of To, Draft, DraftShare is
// set for press, rolls and hammer. Pointers are nil where the job left the
// value to be computed.
type Pass struct {
	Line         int // in the job file, for messages; 0: planned
	Tool         PassTool
	To           float64 // m
	Draft        float64 // m
	DraftShare   float64 // 0..1
	Edge         bool
	Bite         float64 // m along the bar, by the press; 0: as long as the die
	DownA        *bool   // side A on the lower die
	Reheat       *bool
	Soak         *Stage // more time in the fire after the heat before this pass; planned
	Repeat       int
	Temperature  *float64 // K, even; nil where A and B are set
	TemperatureA *float64 // K at the face; A and B are set together
	TemperatureB *float64 // K
	FrictionA    *float64
	FrictionB    *float64
	Bond         *Bond
	Tilt         float64 // m over the width, wider at the smith's right
	OffA, OffB   float64 // m, grind
	Pieces       int     // restack
	Off          float64 // m off each face, restack
}

// Measured is what was seen after a number of heats.
type Measured struct {
	After     int
	Thickness *float64 // m
	Width     *float64 // m
	Offset    *float64 // m, core toward A
	Hot       bool
}

// Target is the bar wanted.
type Target struct {
	Thickness, Width float64 // m; Width 0: not asked
}

// GrindKind is the shape of the bevels.
type GrindKind int

// The grinds.
const (
	FlatGrind GrindKind = iota
	HollowGrind
	ConvexGrind
	ChiselGrind
)

// Bevel is the grind of a blade.
type Bevel struct {
	Kind   GrindKind
	Height float64 // m
	Wheel  float64 // m diameter, hollow
	Bulge  float64 // m, convex
	SideA  bool    // chisel: A is the bevelled side
}

// Blade is the finished blade wanted.
type Blade struct {
	Spine, TipSpine float64 // m
	Height, Length  float64 // m
	Edge            float64 // m before sharpening
	Grind           Bevel
	CoreLine        float64 // m above the edge; 0: not asked
	EdgeFromSide    float64 // m of the bar's side, trimmed off
	EdgeRight       bool
	Offset          float64 // m toward A
	Clean           float64 // m off each face
}

// Stock is what can be bought.
type Stock struct {
	Sizes []float64 // m
	Trim  float64   // m off each end
}

// Quench is the quenching medium.
type Quench int

// The quenchants.
const (
	FastOil Quench = iota
	SlowOil
	Water
	Brine
	Plates
	StillAir
)

// TemperStep is one tempering.
type TemperStep struct {
	Temperature float64 // K
	Time        float64 // s
}

// Harden is the heat treatment.
type Harden struct {
	Cycles      []float64 // K
	Austenitise float64   // K
	Soak        float64   // s
	Quench      Quench
	Temper      []TemperStep
}

// Spread is what a smith can't hold exactly: standard deviations. All
// fields count as they stand; a job without a spread takes DefaultSpread.
type Spread struct {
	Jacket     float64 // share of a jacket's thickness
	SideToSide float64 // K
	Rest       float64 // share of the rest time
	Tilt       float64 // m over the width
	Friction   float64 // share
	Reading    float64 // K, forge reading
}

// DefaultSpread is the spread of a careful shop (assumed, no source).
func DefaultSpread() Spread {
	return Spread{Jacket: 0.02, SideToSide: 20, Rest: 0.30, Tilt: 0.3e-3, Friction: 0.20, Reading: 20}
}
