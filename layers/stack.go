package layers

import (
	"fmt"
	"math"
)

// Strength is a layer's flow stress in Pa at an equivalent strain, an
// equivalent strain rate (1/s) and a temperature (K). It must be positive and
// finite, and grow with the rate, wherever it is asked.
type Strength func(strain, ratePerS, tempK float64) float64

// Layer is one layer of the stack, as laid up.
type Layer struct {
	Name      string
	Thickness float64  // m, when the stack was made (hot or cold as the caller keeps sizes)
	Strength  Strength // flow stress
}

// Joint is what holds two neighbouring layers together.
type Joint struct {
	Welded   bool
	Friction float64 // Tresca factor 0..1 while not welded
}

// Side names a long side of the bar. Sides stay with the metal.
type Side int

// The four long sides.
const (
	SideB Side = iota
	SideA
	SideLeft
	SideRight
)

// String gives the side's letter or word.
func (s Side) String() string {
	return [...]string{"B", "A", "left", "right"}[s&3]
}

// Opposite is the side across the bar.
func (s Side) Opposite() Side { return s ^ 1 }

// Mesh says how finely the section is divided. The zero value is the coarse
// mesh: 6 columns over half the width and 2 rows a layer.
type Mesh struct {
	Columns  int // over half the width; 0 means 6
	PerLayer int // rows of elements a layer; 0 means 2
	Apart    int // up to this many layers have rows of their own; 0 means 9
}

// usualApart is the largest number of layers that get rows of their own;
// beyond it neighbours share rows and their lines are traced as markers.
const usualApart = 9

// Limits of an accepted mesh: the upper ones keep a squeeze within minutes.
const (
	maxColumns  = 96
	maxPerLayer = 48
	maxApart    = 64
)

func (m Mesh) orDefault() Mesh {
	if m.Columns == 0 {
		m.Columns = 6
	}
	if m.PerLayer == 0 {
		m.PerLayer = 2
	}
	if m.Apart == 0 {
		m.Apart = usualApart
	}
	return m
}

// Stack is the bar: its layers from side B to side A, its joints and the
// present shape of its section. Make it with NewStack.
type Stack struct {
	layers  []Layer
	joints  []Joint // joints[i] lies between layers i and i+1
	core    int
	length  float64 // m, at lay-up or at the last rebuild
	divide  Mesh
	down    Side
	mesh    *mesh
	notices []string
}

// NewStack lays up a bar width x length (m) of the given layers, side B first.
// joints has one entry fewer than layers; nil means all welded. core is the
// index of the layer whose offset is followed.
func NewStack(width, length float64, layers []Layer, joints []Joint, core int, divide Mesh) (*Stack, error) {
	if err := checkStack(width, length, layers, joints, core, divide); err != nil {
		return nil, err
	}
	s := &Stack{
		layers: append([]Layer(nil), layers...),
		joints: make([]Joint, len(layers)-1),
		core:   core, length: length, divide: divide.orDefault(), down: SideB,
	}
	for i := range s.joints {
		s.joints[i].Welded = true
	}
	copy(s.joints, joints)
	thick := make([]float64, len(layers))
	for i, l := range layers {
		thick[i] = l.Thickness
	}
	s.mesh = s.newMesh(thick, width)
	return s, nil
}

func checkStack(width, length float64, layers []Layer, joints []Joint, core int, divide Mesh) error {
	if !positive(width) || !positive(length) {
		return fmt.Errorf("layers: stack: width %g m, length %g m; both must be positive", width, length)
	}
	if len(layers) == 0 {
		return fmt.Errorf("layers: stack: no layers; at least one is needed")
	}
	for i, l := range layers {
		if !positive(l.Thickness) {
			return fmt.Errorf("layers: stack: layer %d is %g m thick; it must be positive", i+1, l.Thickness)
		}
		if l.Strength == nil {
			return fmt.Errorf("layers: stack: layer %d has no strength law; each layer needs one", i+1)
		}
	}
	if joints != nil && len(joints) != len(layers)-1 {
		return fmt.Errorf("layers: stack: %d joints for %d layers; one fewer than layers, or none", len(joints), len(layers))
	}
	for i, j := range joints {
		if err := checkJoint(i, j); err != nil {
			return err
		}
	}
	if core < 0 || core >= len(layers) {
		return fmt.Errorf("layers: stack: core %d of %d layers; 0 to %d", core, len(layers), len(layers)-1)
	}
	d := divide.orDefault()
	if d.Columns < 2 || d.Columns > maxColumns || d.PerLayer < 1 || d.PerLayer > maxPerLayer || d.Apart < 3 || d.Apart > maxApart {
		return fmt.Errorf("layers: stack: mesh %d columns x %d rows a layer, %d layers apart; 2 to %d columns, 1 to %d rows, 3 to %d layers",
			d.Columns, d.PerLayer, d.Apart, maxColumns, maxPerLayer, maxApart)
	}
	return nil
}

func checkJoint(i int, j Joint) error {
	if !j.Welded && !(j.Friction >= 0 && j.Friction <= 1) {
		return fmt.Errorf("layers: joint %d: friction %g; a Tresca factor from 0 to 1", i+1, j.Friction)
	}
	return nil
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }

// Layers returns the layers as laid up, side B first.
func (s *Stack) Layers() []Layer { return append([]Layer(nil), s.layers...) }

// Joints returns the joints, the one nearest side B first.
func (s *Stack) Joints() []Joint { return append([]Joint(nil), s.joints...) }

// Core is the index of the layer whose offset is followed.
func (s *Stack) Core() int { return s.core }

// Down is the side lying on the lower die: SideB at the start.
func (s *Stack) Down() Side { return s.down }

// Flip turns the bar over about its length: sides A and B change places, and
// so do left and right, in space. The metal keeps its names.
func (s *Stack) Flip() { s.down = s.down.Opposite() }

// Lay puts the given side down: SideA or SideB flat, SideLeft or SideRight on
// edge.
func (s *Stack) Lay(down Side) error {
	if down < SideB || down > SideRight {
		return fmt.Errorf("layers: lay: side %d; SideB, SideA, SideLeft or SideRight", int(down))
	}
	s.down = down
	return nil
}

// OnEdge tells whether the bar stands on its left or right side.
func (s *Stack) OnEdge() bool { return s.down == SideLeft || s.down == SideRight }

// Clone returns an independent copy.
func (s *Stack) Clone() *Stack {
	c := *s
	c.layers = append([]Layer(nil), s.layers...)
	c.joints = append([]Joint(nil), s.joints...)
	c.notices = append([]string(nil), s.notices...)
	c.mesh = s.mesh.clone()
	return &c
}

// Length is the bar's length in m: the length at lay-up times the mean
// elongation of its layers, weighted by their area.
func (s *Stack) Length() float64 {
	area, volume := 0.0, 0.0
	for i, a := range s.Areas() {
		area += a
		volume += a * s.mesh.elongation[s.mesh.groupOf[i]]
	}
	return s.length * volume / area
}

// Elongations gives, for each layer, its present length over its length at
// lay-up (or at the last rebuild by Bond or Restack). Welded neighbours share it.
func (s *Stack) Elongations() []float64 {
	out := make([]float64, len(s.layers))
	for i := range out {
		out[i] = s.mesh.elongation[s.mesh.groupOf[i]]
	}
	return out
}

// Overhang is the difference in length between the longest and the shortest
// layer, m: zero when everything is welded.
func (s *Stack) Overhang() float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range s.mesh.elongation {
		lo, hi = math.Min(lo, e), math.Max(hi, e)
	}
	return s.length * (hi - lo)
}

// Strains gives each layer's mean equivalent strain since lay-up or the last
// Anneal.
func (s *Stack) Strains() []float64 {
	return s.mesh.layerMeans(len(s.layers), func(e int) float64 { return s.mesh.strain[e] })
}

// Anneal forgets the strain, as after recrystallisation.
func (s *Stack) Anneal() {
	for i := range s.mesh.strain {
		s.mesh.strain[i] = 0
	}
}
