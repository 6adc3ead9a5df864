package plots

import (
	"image/color"
	"math"
	"sync"

	"gonum.org/v1/gonum/interp"
)

// The colours for temperature: from dark steel through copper to straw. The
// path is drawn in CIELAB, where equal distances look about equally different,
// and cut into steps of equal length; lightness L* rises all the way, so the
// order survives print in grey and any colour blindness.
//
// CIELAB and the white point: CIE 15 (from memory); sRGB: IEC 61966-2-1 (from
// memory).

// scalePath is the path of the scale: L*, a*, b*. Our own choice, inside sRGB.
var scalePath = [...][3]float64{
	{13, 1, -10},
	{34, 21, 3},
	{53, 34, 32},
	{74, 16, 48},
	{96, -3, 20},
}

const scaleSteps = 256

// heatScale is the colours, coldest first.
var heatScale = sync.OnceValue(func() color.Palette {
	lab := scaleLab()
	scale := make(color.Palette, len(lab))
	for i, c := range lab {
		scale[i] = labColor(c)
	}
	return scale
})

// scaleLab is the scale in CIELAB.
func scaleLab() [scaleSteps][3]float64 {
	const fine = 4000 // pieces of the path; only their count limits the evenness
	var along [len(scalePath)]float64
	for i := range along {
		along[i] = float64(i) / float64(len(scalePath)-1)
	}
	var curve [3]interp.FritschButland
	for k := range curve {
		var v [len(scalePath)]float64
		for i, p := range scalePath {
			v[i] = p[k]
		}
		if err := curve[k].Fit(along[:], v[:]); err != nil {
			panic("plots: heat scale: " + err.Error())
		}
	}
	at := func(s float64) [3]float64 {
		return [3]float64{curve[0].Predict(s), curve[1].Predict(s), curve[2].Predict(s)}
	}
	length := make([]float64, fine+1)
	for i := 1; i <= fine; i++ {
		length[i] = length[i-1] + labDistance(at(float64(i-1)/fine), at(float64(i)/fine))
	}
	var out [scaleSteps][3]float64
	j := 0
	for i := range out {
		want := length[fine] * float64(i) / (scaleSteps - 1)
		for j < fine-1 && length[j+1] < want {
			j++
		}
		part := (want - length[j]) / (length[j+1] - length[j])
		out[i] = at((float64(j) + part) / fine)
	}
	return out
}

// labDistance is the CIE 1976 colour difference.
func labDistance(a, b [3]float64) float64 {
	return math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2])
}

// labLinear turns L*, a*, b* (white D65) into linear sRGB.
func labLinear(c [3]float64) [3]float64 {
	fy := (c[0] + 16) / 116
	x := 0.95047 * labInverse(fy+c[1]/500)
	y := labInverse(fy)
	z := 1.08883 * labInverse(fy-c[2]/200)
	return [3]float64{
		3.2406*x - 1.5372*y - 0.4986*z,
		-0.9689*x + 1.8758*y + 0.0415*z,
		0.0557*x - 0.2040*y + 1.0570*z,
	}
}

func labInverse(t float64) float64 {
	if t > 6.0/29 {
		return t * t * t
	}
	return 3 * (6.0 / 29) * (6.0 / 29) * (t - 4.0/29)
}

// labColor is the nearest sRGB colour.
func labColor(c [3]float64) color.NRGBA {
	var v [3]uint8
	for i, u := range labLinear(c) {
		if u <= 0.0031308 {
			u *= 12.92
		} else {
			u = 1.055*math.Pow(u, 1/2.4) - 0.055
		}
		v[i] = uint8(math.Round(255 * math.Max(0, math.Min(1, u))))
	}
	return color.NRGBA{v[0], v[1], v[2], 0xff}
}

// scaleIndex is the step of the scale for share 0 (cold end) to 1.
func scaleIndex(share float64) uint8 {
	return uint8(math.Round(math.Max(0, math.Min(1, share)) * (scaleSteps - 1)))
}
