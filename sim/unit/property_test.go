package unit

import (
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// everyFormat is every formatter of one number.
var everyFormat = map[string]func(float64) string{
	"Duration": Duration,
	"Rotation": Metric.Rotation, "Share": Metric.Share,
	"Metric.Length": Metric.Length, "Inch.Length": Inch.Length,
	"Metric.FineLength": Metric.FineLength, "Inch.FineLength": Inch.FineLength,
	"Metric.LongLength": Metric.LongLength, "Inch.LongLength": Inch.LongLength,
	"Metric.BothLength": Metric.BothLength, "Inch.BothLength": Inch.BothLength,
	"Metric.Temperature": Metric.Temperature, "Inch.Temperature": Inch.Temperature,
	"Metric.ExactTemperature": Metric.ExactTemperature, "Inch.ExactTemperature": Inch.ExactTemperature,
	"Metric.TemperatureDifference": Metric.TemperatureDifference, "Inch.TemperatureDifference": Inch.TemperatureDifference,
	"Metric.Force": Metric.Force, "Inch.Force": Inch.Force,
	"Metric.Mass": Metric.Mass, "Inch.Mass": Inch.Mass,
	"Metric.Power": Metric.Power, "Inch.Power": Inch.Power,
	"Metric.Energy": Metric.Energy, "Inch.Energy": Inch.Energy,
	"Metric.Pressure": Metric.Pressure, "Inch.Pressure": Inch.Pressure,
	"Metric.Stress": Metric.Stress, "Inch.Stress": Inch.Stress,
	"Metric.Speed": Metric.Speed, "Inch.Speed": Inch.Speed,
}

// span is the kind, the range of sizes a shop meets, and the loss allowed when
// a size is written and read back: half the documented step. For sizes below
// small it is fine; above, it is coarse or a share of the size, whichever is
// larger, the share being half a step over the lower end of its grade.
type span struct {
	kind          Kind
	lo, hi        float64
	small, fine   float64
	coarse, share float64
}

var spans = map[string]span{
	"Duration":                     {Time, 0, 36000, 1.95, 0.05, 0.5, 0.125},     // 5 s steps from 20 s
	"Rotation":                     {Rotation, 0, 30, 1, 0.05 * 0.10472, 0, .05}, // whole rpm from 10
	"Share":                        {Share, -1, 1, 0.0199, 0.00005, 0.0005, 0.05},
	"Metric.Length":                {Length, -3, 3, 0.094 * mm, 0.005 * mm, 0.05 * mm, 0},
	"Inch.Length":                  {Length, -3, 3, 0.0304 * in, 0.0005 * in, in / 64, 0},
	"Metric.FineLength":            {Length, -0.1, 0.1, 0, 0, 0.005 * mm, 0},
	"Inch.FineLength":              {Length, -0.1, 0.1, 0, 0, 0.0005 * in, 0},
	"Metric.LongLength":            {Length, 0, 6, 9.94 * mm, 0.05 * mm, 0.5 * mm, 0},
	"Inch.LongLength":              {Length, 0, 6, 0.48 * in, in / 64, in / 16, 0},
	"Metric.Temperature":           {Temperature, 200, 1900, 372, 0.5, 2.5, 0},
	"Inch.Temperature":             {Temperature, 200, 1900, 366, 0.5 / 1.8, 5 / 1.8, 0},
	"Metric.ExactTemperature":      {Temperature, 200, 1900, 0, 0, 0.5, 0},
	"Inch.ExactTemperature":        {Temperature, 200, 1900, 0, 0, 0.5 / 1.8, 0},
	"Metric.TemperatureDifference": {TemperatureDifference, -500, 500, 1.94, 0.05, 0.5, 0.125}, // 5 °C steps from 20 °C
	"Inch.TemperatureDifference":   {TemperatureDifference, -500, 500, 3.94 / 1.8, 0.05 / 1.8, 0.5 / 1.8, 0.125},
	"Metric.Force":                 {Force, 0, 5e6, 99, 0.5, 0, 0.05},
	"Inch.Force":                   {Force, 0, 5e6, 99 * lbf, 0.5 * lbf, 0, 0.05},
	"Metric.Mass":                  {Mass, 0, 200, 0.0099, 0.05e-3, 0, 0.05},
	"Inch.Mass":                    {Mass, 0, 200, 0.45, 0.05 * 0.0283496, 0, 0.05},
	"Metric.Power":                 {Power, 0, 2e5, 99, 0.5, 0, 0.05},
	"Inch.Power":                   {Power, 0, 2e5, 740, 0.005 * 745.7, 0, 0.05},
	"Metric.Energy":                {Energy, 0, 1e5, 99, 0.5, 0, 0.05},
	"Inch.Energy":                  {Energy, 0, 1e5, 99 * 1.35582, 0.5 * 1.35582, 0, 0.05},
	"Metric.Pressure":              {Pressure, 0, 1e8, 9.9e5, 0.05e5, 0, 0.05},
	"Inch.Pressure":                {Pressure, 0, 1e8, 99 * 6894.76, 0.5 * 6894.76, 0, 0.05},
	"Metric.Stress":                {Pressure, 0, 1e9, 9.9e6, 0.05e6, 0, 0.05},
	"Inch.Stress":                  {Pressure, 0, 1e9, 19.9 * 6.89476e6, 0.05 * 6.89476e6, 0, 0.05},
	"Metric.Speed":                 {Speed, 0, 10, 19.9 * mm, 0.05 * mm, 0, 0.05},
	"Inch.Speed":                   {Speed, 0, 10, 1.99 * in, 0.005 * in, 0, 0.05},
}

// loss is what may be lost at x.
func (s span) loss(x float64) float64 {
	if x = math.Abs(x); x < s.small {
		return s.fine
	}
	return max(s.coarse, s.share*x)
}

// minusZero is a nought with a sign.
var minusZero = regexp.MustCompile(`^-0*\.?0* `)

// back writes x and reads it again.
func back(t *rapid.T, name string, x float64) (text string, y float64) {
	text = everyFormat[name](x)
	y, err := Parse(spans[name].kind, text)
	if err != nil {
		t.Fatalf("%s(%v) = %q is not read back: %v", name, x, text, err)
	}
	return text, y
}

// size draws a size from the span, small ones as often as large ones.
func size(s span) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		if s.kind == Temperature {
			return rapid.Float64Range(s.lo, s.hi).Draw(t, "linear")
		}
		x := s.hi * math.Pow(10, -rapid.Float64Range(0, 7).Draw(t, "decades"))
		if s.lo < 0 && rapid.Bool().Draw(t, "negative") {
			x = -x
		}
		return x
	})
}

// Written and read back, a size is the same within its step; writing it again
// changes nothing; order is kept; and nothing is written as minus zero. The
// second and third fail wherever two grades do not meet ("60 s" beside
// "1 min", "1000 N" beside "1.0 kN").
func TestWriteAndReadBack(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(spans)) {
		s := spans[name]
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			x := size(s).Draw(t, "x")
			text, y := back(t, name, x)
			// 1e-6 covers the slack given to ties, 1e-9 of a step, and the
			// rounded factors above.
			if allowed := s.loss(x); math.Abs(x-y) > allowed*(1+1e-6) {
				t.Fatalf("%s(%v) = %q, off by %v, allowed %v", name, x, text, y-x, allowed)
			}
			if again := everyFormat[name](y); again != text {
				t.Fatalf("%s writes %q, read back and written again %q", name, text, again)
			}
			if minusZero.MatchString(text) {
				t.Fatalf("%s(%v) = %q", name, x, text)
			}
			near := x * (1 + rapid.Float64Range(-0.3, 0.3).Draw(t, "change"))
			if _, z := back(t, name, near); (near-x)*(z-y) < 0 {
				t.Fatalf("%s: %v and %v are written in the wrong order: %v, %v", name, x, near, y, z)
			}
		}))
	}
}

// The range written holds the range given, and is wider by at most the step
// on each side: a quarter of the end, or a minute for ends in minutes.
func TestRangeHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := size(spans["Duration"]).Draw(t, "lo")
		hi := lo * (1 + rapid.Float64Range(0, 4).Draw(t, "wider"))
		text := DurationRange(lo, hi)
		l, h, two := strings.Cut(text, " to ")
		if !two {
			h = l
		}
		if _, err := Parse(Time, l); err != nil { // "9 to 14 min": one unit for both
			l += h[strings.LastIndex(h, " "):]
		}
		a, err1 := Parse(Time, l)
		b, err2 := Parse(Time, h)
		if err1 != nil || err2 != nil {
			t.Fatalf("DurationRange(%v, %v) = %q: %v, %v", lo, hi, text, err1, err2)
		}
		// The slack of ties is 1e-9 of a step of at most 300 s.
		if a > lo+1e-6 || b < hi-1e-6 {
			t.Fatalf("DurationRange(%v, %v) = %q does not hold its ends", lo, hi, text)
		}
		if lo-a > max(0.1, lo/4, 60) || b-hi > max(0.1, hi/4, 60) {
			t.Fatalf("DurationRange(%v, %v) = %q is too wide", lo, hi, text)
		}
	})
}

// Every size in 32nds, and every tenth of a millimetre, is written as itself.
func TestStepsAreKept(t *testing.T) {
	for n := int64(1); n <= 32*12; n++ {
		text := vulgar(n, 32) + " in"
		if m, err := Parse(Length, text); err != nil || Inch.Length(m) != text {
			t.Errorf("%q comes back as %q (%v)", text, Inch.Length(m), err)
		}
		text = decimal(n, 1) + " mm"
		if m, err := Parse(Length, text); err != nil || Metric.Length(m) != text {
			t.Errorf("%q comes back as %q (%v)", text, Metric.Length(m), err)
		}
	}
	for n := int64(-459); n <= 3000; n++ {
		text := decimal(n, 0) + " °F"
		if k, err := Parse(Temperature, text); err != nil || Inch.ExactTemperature(k) != text {
			t.Errorf("%q comes back as %q (%v)", text, Inch.ExactTemperature(k), err)
		}
	}
}
