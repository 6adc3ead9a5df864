package sim

// Result is what a run found. Everything after Run reads only this.
type Result struct {
	Job      *Job
	Soak     *Soak
	Work     *Work       // of the passes; nil: not computed
	Lesson   *Lesson     // nil: not computed
	Squeeze  *SqueezeFit // what a measured squeeze says of the forces; nil: none
	Ground   *Bevelled   // what the bevels show; nil: not computed
	Stock    *StockCut   // the pieces to cut; nil: not computed
	Losses   *Lost       // what the fire took; nil: not computed
	Hardened *Hardened   // the heat treatment; nil: not computed
	Day      *Day        // minutes and fuel of the whole; nil: not computed
	Warnings []string
	Cautions []string
	Assumed  []string
	// Colours are the names of glowing steel by its temperature, coldest
	// first, for pictures; empty: not shown.
	Colours []HeatColour
}

// HeatColour is a colour name of glowing steel and the range it stands for.
type HeatColour struct {
	Name     string
	From, To float64 // K
}

// Soak is the answer of the heats in the forge.
type Soak struct {
	Stages  []StageEnd
	Answers SoakAnswers
	History History
	// RunOn is the history after the given stages, if left in the forge.
	RunOn   History
	Section Section // the mid-length section when the skin looks ready
	Energy  Energy
	Grid    GridInfo
	// Milestones are the moments worth marking, in order of time.
	Milestones []Milestone
	// Hottest anything gets in the given stages, and the coldest joint's
	// ceiling when welding heat is out of reach.
	CeilingJoints float64 // K, coldest joint (core for one layer) at the end of the run
	Reaches       bool    // every joint reaches welding heat
	Advice        []string
	Ranges        *SoakRanges // nil: not asked
	Sweeps        []Sweep     // nil: not asked
	Forge         *ForgeCurve // nil: a forge that holds its temperature
	Bar           *BarFit     // nil: no timed bar
	Squeeze       *SqueezeFit // nil: no measured squeeze
	// Limits by layer, where it burns.
	Limits []LayerLimit
}

// StageEnd is the state at the end of a stage.
type StageEnd struct {
	In           Place
	Start, End   float64 // s from the start of the first stage
	Reached      bool
	Skin, Core   float64 // K
	ColdestJoint float64 // K; NaN-free: equal to Core with HasJoints false
	HasJoints    bool
	Hottest      float64    // K anywhere
	Coldest      float64    // K anywhere
	Faces        [6]float64 // K, centre of each face by Face
	FaceIs       [6]bool    // false where the direction is not modelled
	Profile      Profile
}

// Profile is the temperature through the middle, B to A; two entries at
// each joint.
type Profile struct {
	Z           []float64 // m from side B
	Temperature []float64 // K
}

// Maybe is a time that may never come.
type Maybe struct {
	Value float64
	OK    bool
}

// SoakAnswers are times in seconds from first entering the forge, air time
// included.
type SoakAnswers struct {
	SkinAtWeld   Maybe
	JointsAtWeld Maybe // not OK with one layer
	CoreAtWeld   Maybe
	Lag          Maybe // joints − skin
	PullForFlux  Maybe
	Soak         Maybe // joints (core for one layer) + hold
	Overheats    Maybe // first layer past its limit, if left in
	OverheatsAt  string
	// OverheatsLayer is that layer's place in the job's stack; with Overheats.
	OverheatsLayer int
	Window         Maybe // overheats − soak
}

// History is sampled at every step of the solution.
type History struct {
	Time         []float64 // s from the start of the first stage
	Skin         []float64 // K
	Core         []float64 // K
	ColdestJoint []float64 // K; empty with one layer
}

// Section is the temperature over the mid-length section, row by row.
type Section struct {
	Time        float64     // s
	Y, Z        []float64   // m, node lines; full section, not a half
	Temperature [][]float64 // K, [z][y]
	Layers      []float64   // m, heights of the layer faces from B
	Cold        [2]float64  // y, z of the coldest spot, m
	ColdT       float64     // K
}

// Energy is the heat balance of the run.
type Energy struct {
	TakenUp      float64 // J stored
	ThroughFaces float64 // J through the faces
	Imbalance    float64 // |difference| as a share of what was taken up
}

// GridInfo says what the solution cost.
type GridInfo struct {
	Dims, Cells, Steps int
	// ErrorEstimate is the largest difference at the milestones' probes
	// from a run on a coarser grid, scaled to this grid, K.
	ErrorEstimate float64
}

// Milestone is a named moment.
type Milestone struct {
	Name                     string
	Time                     float64 // s
	Skin, Core, ColdestJoint float64 // K
}

// LayerLimit is where a layer burns.
type LayerLimit struct {
	Layer    int
	Material string
	Limit    float64 // K
	Solidus  float64 // K
}
