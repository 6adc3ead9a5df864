package plots

import (
	"image/color"
	"math"
	"testing"
)

// TestLab holds the conversion to the CIELAB coordinates of the sRGB corners
// (D65), which follow from IEC 61966-2-1 and CIE 15; values from memory,
// rounded to 0.01, which is less than half a step of 255.
func TestLab(t *testing.T) {
	for _, c := range []struct {
		lab  [3]float64
		want color.NRGBA
	}{
		{[3]float64{100, 0, 0}, color.NRGBA{255, 255, 255, 255}},
		{[3]float64{0, 0, 0}, color.NRGBA{0, 0, 0, 255}},
		{[3]float64{53.24, 80.09, 67.20}, color.NRGBA{255, 0, 0, 255}},
		{[3]float64{87.73, -86.18, 83.18}, color.NRGBA{0, 255, 0, 255}},
		{[3]float64{32.30, 79.19, -107.86}, color.NRGBA{0, 0, 255, 255}},
		{[3]float64{53.59, 0, 0}, color.NRGBA{128, 128, 128, 255}},
	} {
		got := labColor(c.lab)
		for i, d := range []int{int(got.R) - int(c.want.R), int(got.G) - int(c.want.G), int(got.B) - int(c.want.B)} {
			if d < -1 || d > 1 { // the coordinates' last figure
				t.Errorf("L*a*b* %v: channel %d of %v; %v", c.lab, i, got, c.want)
			}
		}
	}
}

// TestHeatScale: the steps are even to the eye, lightness only rises, so that
// neither print in grey nor colour blindness changes the order, and no colour
// lies outside sRGB, where it would be clipped.
func TestHeatScale(t *testing.T) {
	lab := scaleLab()
	least, most := math.Inf(1), 0.0
	for i := 1; i < len(lab); i++ {
		d := labDistance(lab[i-1], lab[i])
		least, most = math.Min(least, d), math.Max(most, d)
		// Our own rule: a quarter of every step at least is lightness.
		if dL := lab[i][0] - lab[i-1][0]; dL < 0.25*d {
			t.Errorf("step %d: lightness rises by %.3f of %.3f", i, dL, d)
		}
	}
	if most > 1.01*least { // the path is cut at 4000 chords: 1 % covers it
		t.Errorf("steps from %.4f to %.4f", least, most)
	}
	for i, c := range lab {
		for _, u := range labLinear(c) {
			if u < -1e-3 || u > 1+1e-3 { // a thousandth is under half a step of 255
				t.Errorf("step %d lies outside sRGB: %v", i, labLinear(c))
			}
		}
	}
	// Printed in grey: luma of ITU-R BT.601 as image/color uses it. Rounding
	// to 8 bits may repeat a value, never turn back.
	scale := heatScale()
	last := uint8(0)
	for i, c := range scale {
		g := color.GrayModel.Convert(c).(color.Gray).Y
		if g < last {
			t.Errorf("step %d is darker in grey than the one before: %d after %d", i, g, last)
		}
		last = g
	}
	if got := scaleIndex(-1); got != 0 {
		t.Errorf("under the scale: step %d; 0", got)
	}
	if got := scaleIndex(2); got != scaleSteps-1 {
		t.Errorf("over the scale: step %d; %d", got, scaleSteps-1)
	}
}
