package unit

import (
	"math"
	"testing"
)

// written is one expected text. What is expected was worked out by hand from
// the stated steps; the values stand just below, on and just above the points
// where a step, a unit or a form changes.
type written struct {
	si   float64
	want string
}

func check(t *testing.T, name string, format func(float64) string, cases []written) {
	t.Helper()
	for _, c := range cases {
		if got := format(c.si); got != c.want {
			t.Errorf("%s(%v) = %q, want %q", name, c.si, got, c.want)
		}
	}
}

const (
	mm  = 1e-3
	in  = 0.0254
	lbf = 4.4482216152605
)

func TestLength(t *testing.T) {
	check(t, "Metric.Length", Metric.Length, []written{
		{12.5 * mm, "12.5 mm"}, {13 * mm, "13.0 mm"}, {15.873 * mm, "15.9 mm"},
		{12.2499 * mm, "12.2 mm"}, {12.25 * mm, "12.3 mm"}, {-12.25 * mm, "-12.3 mm"},
		{9.96 * mm, "10.0 mm"}, {999.96 * mm, "1000.0 mm"},
		{0.104 * mm, "0.1 mm"}, {0.0951 * mm, "0.1 mm"}, {0.0949 * mm, "0.09 mm"}, {0.03 * mm, "0.03 mm"},
		{0.0051 * mm, "0.01 mm"}, {0.0049 * mm, "0.0 mm"}, {-0.0049 * mm, "0.0 mm"}, {0, "0.0 mm"},
		{math.Copysign(0, -1), "0.0 mm"}, {-0.3 * mm, "-0.3 mm"},
	})
	check(t, "Inch.Length", Inch.Length, []written{
		{1.5 * in, "1-1/2 in"}, {3 * in / 32, "3/32 in"}, {in, "1 in"}, {12 * in, "12 in"}, {13 * mm, "1/2 in"},
		{in * 31.49 / 32, "31/32 in"}, {in * 31.51 / 32, "1 in"}, {in * 33 / 32, "1-1/32 in"},
		{-1.5 * in, "-1-1/2 in"}, {-0.25 * in, "-1/4 in"},
		{in / 64, "0.016 in"}, {in / 32, "1/32 in"}, {0.0306 * in, "1/32 in"}, {0.0304 * in, "0.030 in"},
		{0.3 * mm, "0.012 in"}, {0.0004 * in, "0 in"}, {-0.0004 * in, "0 in"}, {0, "0 in"},
		{3 * in / 64, "1/16 in"}, // 1.5 steps: a half goes away from zero
	})
}

func TestFineAndLongLength(t *testing.T) {
	check(t, "Metric.FineLength", Metric.FineLength, []written{
		{0.3 * mm, "0.30 mm"}, {0.125 * mm, "0.13 mm"}, {-0.3 * mm, "-0.30 mm"}, {-0.004 * mm, "0.00 mm"}, {12 * mm, "12.00 mm"},
	})
	check(t, "Inch.FineLength", Inch.FineLength, []written{
		{0.3 * mm, "0.012 in"}, {0.094 * in, "0.094 in"}, {-0.0004 * in, "0.000 in"}, {0.9996 * in, "1.000 in"},
	})
	check(t, "Metric.LongLength", Metric.LongLength, []written{
		{152.4 * mm, "152 mm"}, {9.94 * mm, "9.9 mm"}, {9.96 * mm, "10 mm"}, {10.4 * mm, "10 mm"}, {0.3 * mm, "0.3 mm"}, {0, "0.0 mm"}, {-152.4 * mm, "-152 mm"},
	})
	check(t, "Inch.LongLength", Inch.LongLength, []written{
		{6 * in, "6 in"}, {6.12 * in, "6-1/8 in"}, {11.93 * in, "11-7/8 in"}, {11.94 * in, "12 in"},
		{15 * in / 32, "15/32 in"}, {15.6 * in / 32, "1/2 in"}, {0.05 * in, "1/16 in"}, {0, "0 in"},
	})
	check(t, "Metric.BothLength", Metric.BothLength, []written{{13 * mm, "13.0 mm (1/2 in)"}, {22 * mm, "22.0 mm (7/8 in)"}})
	check(t, "Inch.BothLength", Inch.BothLength, []written{{0.5 * in, "1/2 in (12.7 mm)"}})
}

func TestTemperature(t *testing.T) {
	check(t, "Metric.Temperature", Metric.Temperature, []written{
		{1150 + 273.15, "1150 °C"}, {1152.4 + 273.15, "1150 °C"}, {1152.5 + 273.15, "1155 °C"},
		{20 + 273.15, "20 °C"}, {99.4 + 273.15, "99 °C"}, {99.6 + 273.15, "100 °C"}, {102.4 + 273.15, "100 °C"},
		{272.9, "0 °C"}, {-10 + 273.15, "-10 °C"}, {0, "-275 °C"},
	})
	check(t, "Inch.Temperature", Inch.Temperature, []written{
		{1150 + 273.15, "2100 °F"}, // 2102 °F
		{20 + 273.15, "68 °F"}, {(199.4 + 459.67) / 1.8, "199 °F"}, {(199.6 + 459.67) / 1.8, "200 °F"}, {(204 + 459.67) / 1.8, "200 °F"},
	})
	check(t, "Metric.ExactTemperature", Metric.ExactTemperature, []written{{1152.4 + 273.15, "1152 °C"}, {272.9, "0 °C"}})
	check(t, "Inch.ExactTemperature", Inch.ExactTemperature, []written{{1150 + 273.15, "2102 °F"}, {-40 + 273.15, "-40 °F"}})
	check(t, "Metric.TemperatureDifference", Metric.TemperatureDifference, []written{
		{0.5, "0.5 °C"}, {1.94, "1.9 °C"}, {1.96, "2 °C"}, {19.4, "19 °C"}, {19.6, "20 °C"}, {22.4, "20 °C"}, {22.6, "25 °C"},
		{-30, "-30 °C"}, {-0.04, "0.0 °C"},
	})
	check(t, "Inch.TemperatureDifference", Inch.TemperatureDifference, []written{
		{1, "1.8 °F"}, {5, "9 °F"}, {25, "50 °F"}, {39.4 / 1.8, "39 °F"}, {39.6 / 1.8, "40 °F"}, {44 / 1.8, "40 °F"},
	})
}

func TestDuration(t *testing.T) {
	check(t, "Duration", Duration, []written{
		{0, "0 s"}, {-0.04, "0 s"}, {0.3, "0.3 s"}, {1, "1 s"}, {1.94, "1.9 s"}, {1.96, "2 s"},
		{4, "4 s"}, {19.4, "19 s"}, {19.6, "20 s"}, {45, "45 s"}, {57.4, "55 s"},
		{57.6, "1 min"}, {59.9, "1 min"}, {60, "1 min"}, {62.6, "1 min 5 s"}, {90, "1 min 30 s"},
		{117.4, "1 min 55 s"}, {117.6, "2 min"}, {124, "2 min"}, {126, "2 min 10 s"},
		{294, "4 min 50 s"}, {296, "5 min"}, {314, "5 min"}, {316, "5 min 30 s"}, {390, "6 min 30 s"},
		{584, "9 min 30 s"}, {586, "10 min"}, {600, "10 min"}, {750, "12.5 min"},
		{1784, "29.5 min"}, {1786, "30 min"}, {1829, "30 min"}, {1831, "31 min"},
		{3569, "59 min"}, {3571, "60 min"}, {7169, "119 min"}, {7171, "2 h"}, {7200, "2 h"}, {7800, "2 h 10 min"},
		{10649, "2 h 55 min"}, {10651, "3 h"}, {-90, "-1 min 30 s"},
	})
}

func TestDurationRange(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{540, 840, "9 to 14 min"}, {559, 801, "9 to 14 min"}, {840, 540, "9 to 14 min"},
		{20, 45, "20 to 45 s"}, {24, 41, "20 to 45 s"}, {0.3, 4, "0.3 to 4 s"}, {0, 12, "0 to 12 s"},
		{45, 55.1, "45 s to 1 min"}, {45, 60, "45 s to 1 min"}, {45, 90, "45 s to 1 min 30 s"},
		{60, 90, "1 min to 1 min 30 s"}, {60, 90.1, "1 to 2 min"}, {60, 118, "1 to 2 min"}, {58, 125, "55 s to 2 min 10 s"},
		{90, 180, "1.5 to 3 min"}, {89, 181, "1 to 3.5 min"},
		{330, 569, "5.5 to 9.5 min"}, {330, 571, "5 to 10 min"},
		{6000, 7139, "100 to 119 min"}, {6000, 7141, "100 min to 2 h"}, {6600, 8000, "110 min to 2 h 15 min"},
		{120, 120, "2 min"}, {750, 750, "12 to 13 min"}, {45, 45, "45 s"}, {7200, 7200, "2 h"},
		{540, math.Inf(1), "more than 9 min"},
		{math.NaN(), 5, Unknown}, {5, math.NaN(), Unknown}, {math.Inf(-1), 5, Unknown}, {math.Inf(1), math.Inf(1), Unknown},
		{-5, 5, "-5 s to 5 s"},
	} {
		if got := DurationRange(c.lo, c.hi); got != c.want {
			t.Errorf("DurationRange(%v, %v) = %q, want %q", c.lo, c.hi, got, c.want)
		}
	}
}

// A size typed halfway between two steps is rounded away from zero, and an end
// of a range typed on a step stays there, whatever its last bits became on the
// way.
func TestLastBitsDoNotMatter(t *testing.T) {
	for n := int64(1); n < 2000; n++ {
		text := decimal(10*n+5, 2) + " mm"
		if m, err := Parse(Length, text); err != nil || Metric.Length(m) != decimal(n+1, 1)+" mm" {
			t.Errorf("%s is written %s (%v)", text, Metric.Length(m), err)
		}
	}
	for _, minutes := range []float64{2, 9, 14, 97} {
		s := 60 * minutes
		want := Duration(s)
		if got := DurationRange(math.Nextafter(s, 0), math.Nextafter(s, 1e9)); got != want {
			t.Errorf("the range from just below to just above %s is written %s", want, got)
		}
	}
}

func TestOtherQuantities(t *testing.T) {
	check(t, "Metric.Force", Metric.Force, []written{
		{99.4, "99 N"}, {99.6, "100 N"}, {994, "990 N"}, {996, "1.0 kN"}, {9949, "9.9 kN"}, {9951, "10 kN"},
		{99.4e3, "99 kN"}, {99.6e3, "100 kN"}, {246e3, "245 kN"}, {997.4e3, "995 kN"}, {997.6e3, "1000 kN"}, {1234e3, "1230 kN"},
	})
	check(t, "Inch.Force", Inch.Force, []written{
		{99.6 * lbf, "100 lbf"}, {1994 * lbf, "1990 lbf"}, {1996 * lbf, "1.0 ton"}, {9.94 * 2000 * lbf, "9.9 ton"},
		{9.96 * 2000 * lbf, "10 ton"}, {25 * 2000 * lbf, "25 ton"}, {99.6 * 2000 * lbf, "100 ton"}, {-0.4 * lbf, "0 lbf"},
	})
	check(t, "Metric.Mass", Metric.Mass, []written{
		{0.00994, "9.9 g"}, {0.00996, "10 g"}, {0.0994, "99 g"}, {0.0996, "100 g"}, {0.9974, "995 g"}, {0.9976, "1.00 kg"},
		{1.25, "1.25 kg"}, {9.994, "9.99 kg"}, {9.996, "10.0 kg"}, {99.96, "100 kg"},
	})
	check(t, "Inch.Mass", Inch.Mass, []written{
		{0.45359237, "1.0 lb"}, {0.45359237 * 15.94 / 16, "15.9 oz"}, {0.45359237 * 15.96 / 16, "1.0 lb"}, {1.25, "2.8 lb"}, {0.45359237 * 99.96, "100 lb"},
	})
	check(t, "Metric.Power", Metric.Power, []written{{2000, "2.0 kW"}, {996, "1.0 kW"}, {994, "990 W"}, {99.6e3, "99.6 kW"}, {99.96e3, "100 kW"}})
	check(t, "Inch.Power", Inch.Power, []written{{745.7, "1.0 hp"}, {745.7 * 0.996, "1.0 hp"}, {745.7 / 4, "0.25 hp"}, {2000, "2.7 hp"}})
	check(t, "Metric.Energy", Metric.Energy, []written{{40, "40 J"}, {996, "1.0 kJ"}})
	check(t, "Inch.Energy", Inch.Energy, []written{{40, "30 ft lbf"}, {99.6 * 0.3048 * lbf, "100 ft lbf"}})
	check(t, "Metric.Pressure", Metric.Pressure, []written{{160e5, "160 bar"}, {9.96e5, "10 bar"}, {162e5, "160 bar"}})
	check(t, "Inch.Pressure", Inch.Pressure, []written{{160e5, "2300 psi"}, {6894.757293 * 996, "1000 psi"}})
	check(t, "Metric.Stress", Metric.Stress, []written{{90e6, "90 MPa"}, {9.96e6, "10 MPa"}, {123e6, "125 MPa"}})
	check(t, "Inch.Stress", Inch.Stress, []written{{90e6, "13.1 ksi"}, {6894757.293 * 19.96, "20 ksi"}})
	check(t, "Metric.Speed", Metric.Speed, []written{{0.012, "12.0 mm/s"}, {0.01996, "20 mm/s"}, {0.9951, "1.0 m/s"}, {7, "7.0 m/s"}})
	check(t, "Inch.Speed", Inch.Speed, []written{{0.012, "0.47 in/s"}, {11.94 * in, "11.9 in/s"}, {11.96 * in, "1.0 ft/s"}, {7, "23.0 ft/s"}})
	check(t, "Rotation", Inch.Rotation, []written{{20 * 2 * math.Pi / 60, "20 rpm"}, {9.96 * 2 * math.Pi / 60, "10 rpm"}})
	check(t, "Share", Metric.Share, []written{{0.0020, "0.20 %"}, {0.0105, "1.05 %"}, {0.01996, "2.0 %"}, {0.0996, "10 %"}, {0.35, "35 %"}, {-0.00004, "0.00 %"}})
}

// Numbers that are no sizes are written as such, whatever the formatter.
func TestUnknown(t *testing.T) {
	for name, format := range everyFormat {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300} {
			if got := format(x); got != Unknown {
				t.Errorf("%s(%v) = %q", name, x, got)
			}
		}
	}
}

func TestNames(t *testing.T) {
	if Metric.String() != "metric" || Inch.String() != "inch" || System(7).Length(0.013) != "13.0 mm" {
		t.Error("a system that is none must be metric")
	}
}
