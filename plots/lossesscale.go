package plots

import (
	"fmt"
	"image/color"

	"billet/sim"
)

// scaleBars is the steel lost heat by heat on both faces.
type scaleBars struct {
	chart
	heats []heatLost
	sides [2]string // A, B: what each lost in all
}

// heatLost is what a heat took, in shown units.
type heatLost struct {
	number int
	lost   [2]float64 // A, B
	share  string     // of the stack's mass
}

// faceInks are the inks of the faces, A and B.
var faceInks = [2]color.Color{hueSkin, hueJoint}

// lossesScale collects what the picture shows.
func lossesScale(r *sim.Result) *scaleBars {
	s, lost := shownIn(r.Job), r.Losses
	k := &scaleBars{chart: chart{name: "losses-scale", title: scaleTitle(lost, s), yTitle: s.thinUnit(),
		subtitle: billet(r.Job, s, "over the bars: share of the mass"), xTitle: "heat"}}
	sums, high := [2]float64{}, leastScale
	for _, h := range lost.Heats {
		high = max(high, h.ScaleA, h.ScaleB)
		sums[0], sums[1] = sums[0]+h.ScaleA, sums[1]+h.ScaleB
		k.heats = append(k.heats, heatLost{h.Number, [2]float64{s.thin(h.ScaleA), s.thin(h.ScaleB)}, s.system.Share(h.MassShare)})
	}
	n := len(lost.Heats)
	k.x, k.y = passAxis(1, n), roundAxis(0, s.thin(1.06*high), 7)
	for i, side := range [2]string{"A", "B"} {
		k.sides[i] = "side " + side + ", in all " + s.fine(sums[i])
	}
	return k
}

// leastScale is the least the axis reaches, m: a loss nobody can measure must
// not look like one.
const leastScale = 1e-5

// thin is a thickness of scale as a number on an axis: mm, or thousandths of
// an inch.
func (s shown) thin(m float64) float64 {
	if s.inch() {
		return 1000 * s.size(m)
	}
	return s.size(m)
}

func (s shown) thinUnit() string {
	if s.inch() {
		return "0.001 in"
	}
	return "mm"
}

// scaleTitle says what the fire takes in all.
func scaleTitle(lost *sim.Lost, s shown) string {
	a, b, mass, worst := 0.0, 0.0, 0.0, 0
	for i, h := range lost.Heats {
		a, b, mass = a+h.ScaleA, b+h.ScaleB, mass+h.MassShare
		if h.MassShare > lost.Heats[worst].MassShare {
			worst = i
		}
	}
	text := fmt.Sprintf("The fire takes %s off side A and %s off side B", whole(s.fine(a)), whole(s.fine(b)))
	if s.nothing(a - b) {
		text = fmt.Sprintf("The fire takes %s off each face", whole(s.fine(a)))
	}
	text += ", " + whole(s.system.Share(mass)) + " of the steel"
	if len(lost.Heats) > 1 && mass > 0 {
		text += "; most in " + whole(fmt.Sprintf("heat %d", lost.Heats[worst].Number))
	}
	return text
}

// sheet draws the picture.
func (k *scaleBars) sheet() *sheet {
	s := k.begin(unitRow+axisRow, 0, passRight)
	f := k.frame
	k.grid(s)
	slot := k.x.at(2) - k.x.at(1)
	wide := min(slot*0.36, 40)
	for i, h := range k.heats {
		x := k.x.at(float64(i + 1))
		top := f.Min.Y
		for side, v := range h.lost {
			x0 := x - wide
			if side == 1 {
				x0 = x
			}
			s.block(x0+0.5, f.Min.Y, x0+wide-0.5, k.y.at(v), faceInks[side])
			top = max(top, k.y.at(v))
		}
		if handTick.width(h.share)+4 <= slot {
			s.text(handTick, x, top+handTick.height()/2+3, 0.5, h.share)
		}
	}
	k.legend(s)
	k.base(s, 0)
	return s
}

// legend names the faces beside the frame, by their inks: bars have no ends to
// write at.
func (k *scaleBars) legend(s *sheet) {
	f := k.frame
	y := f.Max.Y - 8
	for i, label := range k.sides {
		x := f.Max.X + labelGap
		s.block(x, y-4, x+8, y+4, faceInks[i])
		s.text(handLabel, x+12, y, 0, handLabel.fit(label, passRight-labelGap-12))
		y -= handLabel.height() + rowGap + 2
	}
}
