package unit

import (
	"math"
	"strings"
	"testing"
)

// Sizes in SI, worked out by hand from the exact definitions (inch 0.0254 m,
// pound 0.45359237 kg, standard gravity 9.80665 m/s²). Parsing is exact and
// rounded once, so they are compared with ==: the literal here is the nearest
// float64 to the same number.
var parseCases = []struct {
	kind Kind
	text string
	want float64
}{
	{Length, "12 mm", 0.012},
	{Length, "12mm", 0.012},
	{Length, " 12  mm ", 0.012},
	{Length, "0.3 mm", 0.0003},
	{Length, ".3 mm", 0.0003},
	{Length, "3. mm", 0.003},
	{Length, "1e3 mm", 1},
	{Length, "30 cm", 0.3},
	{Length, "0.14 m", 0.14},
	{Length, "1/64 in", 0.000396875},
	{Length, "3/16 in", 0.0047625},
	{Length, "3/8 in", 0.009525},
	{Length, "1/2 in", 0.0127},
	{Length, "12.7 mm", 0.0127},
	{Length, "1-1/2 in", 0.0381},
	{Length, "1 1/2 in", 0.0381},
	{Length, "1½ in", 0.0381},
	{Length, "1-½ in", 0.0381},
	{Length, "½\"", 0.0127},
	{Length, "1 1⁄2″", 0.0381},
	{Length, "3/2 in", 0.0381},
	{Length, "1.5 inches", 0.0381},
	{Length, "1.5 in.", 0.0381},
	{Length, `1-1/2"`, 0.0381},
	{Length, "1-1/2”", 0.0381},
	{Length, "1 inch", 0.0254},
	{Length, "2 ft", 0.6096},
	{Length, "1 ft 3 in", 0.381},
	{Length, "1 ft. 3 in.", 0.381},
	{Length, `1' 3-1/2"`, 0.3937},
	{Length, "1 ft .5 in", 0.3175},
	{Length, "-0.3 mm", -0.0003},
	{Length, "−0.3 mm", -0.0003},
	{Length, "+0.3 mm", 0.0003},
	{Length, "-1-1/2 in", -0.0381},
	{Length, "-1 ft 6 in", -0.4572},
	{Length, "0 mm", 0},
	{Length, "40 MM", 0.04},

	// SP 811 appendix B.8: T/K = t/°C + 273.15, T/K = (t/°F + 459.67)/1.8.
	{Temperature, "1300 C", 1573.15},
	{Temperature, "1300 °C", 1573.15},
	{Temperature, "1300°C", 1573.15},
	{Temperature, "1300 ° C", 1573.15},
	{Temperature, "1300 deg C", 1573.15},
	{Temperature, "1300 degrees Celsius", 1573.15},
	{Temperature, "1300℃", 1573.15},
	{Temperature, "-10 C", 263.15},
	{Temperature, "32 F", 273.15},
	{Temperature, "212 °F", 373.15},
	{Temperature, "-40 F", 233.15},
	{Temperature, "-40 C", 233.15},
	{Temperature, "2012 F", 1373.15}, // 1100 °C
	{Temperature, "1373.15 K", 1373.15},
	{Temperature, "0 K", 0},
	{Temperature, "-273.15 C", 0},
	{Temperature, "-459.67 F", 0},
	{TemperatureDifference, "0.5 C", 0.5},
	{TemperatureDifference, "9 F", 5},
	{TemperatureDifference, "-5 K", -5},

	{Time, "60 s", 60},
	{Time, "45 sec", 45},
	{Time, "2 min", 120},
	{Time, "2 mins", 120},
	{Time, "2 minutes", 120},
	{Time, "1 min 30 s", 90},
	{Time, "1min30s", 90},
	{Time, "5 min 10 s", 310},
	{Time, "1-1/2 min", 90},
	{Time, "2 h", 7200},
	{Time, "1 h 5 min 10 s", 3910},
	{Time, "1 h 10 s", 3610},
	{Time, "1/2 hour", 1800},

	{Force, "25 N", 25},
	{Force, "245 kN", 245000},
	{Force, "245 KN", 245000},
	{Force, "1 lbf", 4.4482216152605}, // SP 811 footnote 23
	{Force, "1 ton", 8896.443230521},
	{Force, "25 tons", 222411.080763025},
	{Force, "1 tonne", 9806.65},
	{Force, "1 kgf", 9.80665},

	{Speed, "12 mm/s", 0.012},
	{Speed, "12 mm / s", 0.012},
	{Speed, "1/2 in/s", 0.0127},
	{Speed, "7 m/s", 7},
	{Speed, "10 ft/s", 3.048},
	{Rotation, "20 rpm", 2.0943951023931954923}, // 2π/3
	{Rotation, "20 RPM", 2.0943951023931954923},
	{Rate, "60 /min", 1},
	{Rate, "60/min", 1},
	{Rate, "90 per minute", 1.5},
	{Rate, "60 1/min", 1},
	{Rate, "1/min", 1. / 60},
	{Rate, "5 /s", 5},

	{Power, "15 kW", 15000},
	{Power, "750 W", 750},
	{Power, "1 hp", 745.69987158227022}, // 550 · 0.3048 · 4.4482216152605
	{Energy, "40 J", 40},
	{Energy, "1 ft lbf", 1.3558179483314004}, // 0.3048 · 4.4482216152605
	{Frequency, "10 kHz", 10000},
	{Frequency, "50 Hz", 50},
	{Pressure, "90 MPa", 90e6},
	{Pressure, "90 Mpa", 90e6},
	{Pressure, "160 bar", 16e6},
	{Pressure, "5 kPa", 5000},
	{Pressure, "5 Pa", 5},
	{Pressure, "1 psi", 6894.757293168361336722673}, // 4.4482216152605 / 0.00064516
	{Pressure, "1 ksi", 6894757.293168361336722673},

	{Conductance, "1500 W/m2K", 1500},
	{Conductance, "1500 W/m²K", 1500},
	{Conductance, "1500 W/(m2 K)", 1500},
	{Conductance, "1500 W/(m² K)", 1500},
	{Conductance, "1500 W/(m²·K)", 1500},
	{Conductance, "1500 W/m^2K", 1500},
	{Conductance, "1500 W/m2/K", 1500},
	{Conductance, "1500 W/m2 °C", 1500},
	{Conductance, "1.5 kW/m2K", 1500},
	{Conductivity, "27.3 W/mK", 27.3},
	{Conductivity, "27.3 W/(m K)", 27.3},
	{Conductivity, "27.3 W/m·K", 27.3},
	{HeatCapacity, "620 J/kgK", 620},
	{HeatCapacity, "620 J/(kg·K)", 620},
	{HeatCapacity, "0.62 kJ/kgK", 620},
	{Density, "7850 kg/m3", 7850},
	{Density, "7850 kg/m³", 7850},
	{Density, "7.85 g/cm3", 7850},
	{Share, "0.20 %", 0.0020},
	{Share, "10%", 0.1},
	{Share, "10 percent", 0.1},
	{Mass, "1.5 kg", 1.5},
	{Mass, "85 g", 0.085},
	{Mass, "1 lb", 0.45359237}, // SP 811 footnote 22
	{Mass, "2 lbs", 0.90718474},
	{Mass, "16 oz", 0.45359237},
	{Mass, "3 lb 4 oz", 1.4741752025},
}

func TestParse(t *testing.T) {
	for _, c := range parseCases {
		got, err := Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("Parse(%v, %q): %v", c.kind, c.text, err)
		} else if got != c.want {
			t.Errorf("Parse(%v, %q) = %v, want %v", c.kind, c.text, got, c.want)
		}
	}
}

// Factors as printed in NIST SP 811 (2008), appendix B.8, to seven digits
// (read in two transcriptions of the table that agree, not in the publication
// itself; table 9 for the bar). A parsed unit may differ by half a unit in the
// seventh digit, the rounding of the print.
func TestFactorsOfSP811(t *testing.T) {
	for _, c := range []struct {
		kind  Kind
		unit  string
		print float64
	}{
		{Length, "in", 2.54e-2},
		{Length, "ft", 3.048e-1},
		{TemperatureDifference, "F", 5.555556e-1},
		{Force, "lbf", 4.448222},
		{Force, "ton", 8.896443e3},
		{Force, "kgf", 9.80665},
		{Rotation, "rpm", 1.047198e-1},
		{Power, "hp", 7.456999e2},
		{Energy, "ft lbf", 1.355818},
		{Pressure, "psi", 6.894757e3},
		{Pressure, "ksi", 6.894757e6},
		{Pressure, "bar", 1e5},
		{Density, "lb/in3", 2.767990e4}, // from memory
		{Mass, "lb", 4.535924e-1},
		{Mass, "oz", 2.834952e-2},
	} {
		got, err := Parse(c.kind, "1 "+c.unit)
		half := 0.5e-6 * math.Pow(10, math.Floor(math.Log10(c.print)))
		if err != nil || math.Abs(got-c.print) > half*(1+1e-6) {
			t.Errorf("1 %s = %.9g, SP 811 prints %.7g (%v)", c.unit, got, c.print, err)
		}
	}
}

// The constants and the units Parse knows are written down apart; here they
// are held together, bit for bit.
func TestConstantsMatchUnits(t *testing.T) {
	for _, c := range []struct {
		kind     Kind
		text     string
		constant float64
	}{
		{Length, "1 in", InchMetres}, {Length, "1 ft", FootMetres},
		{Mass, "1 lb", PoundKilograms}, {Mass, "1 oz", OunceKilograms},
		{Force, "1 kgf", KilogramForceNewtons}, {Force, "1 lbf", PoundForceNewtons},
		{Force, "1 ton", ShortTonNewtons}, {Force, "1 tonne", TonneNewtons},
		{Energy, "1 ft lbf", FootPoundJoules}, {Power, "1 hp", HorsepowerWatts},
		{Pressure, "1 psi", PSIPascals}, {Pressure, "1 ksi", KSIPascals},
		{Pressure, "1 bar", BarPascals}, {Rotation, "1 rpm", RPMRadians},
		{Time, "1 min", MinuteSeconds}, {Time, "1 h", HourSeconds},
		{Temperature, "0 C", ZeroCelsius}, {Temperature, "0 F", ZeroFahrenheit},
		{TemperatureDifference, "1 F", FahrenheitKelvins},
	} {
		if got, err := Parse(c.kind, c.text); err != nil || got != c.constant {
			t.Errorf("%s: Parse gives %v (%v), the constant is %v", c.text, got, err, c.constant)
		}
	}
}

// Equal sizes must give equal numbers, or an answer would change with the
// units a job is written in. Each 64th of an inch has at most 12 decimals in
// millimetres, which the test writes out by integer arithmetic alone:
// n/64 in = n·25.4/64 mm = n·396875 nm.
func TestSixtyFourthsAreExact(t *testing.T) {
	for n := int64(1); n <= 64*4; n++ {
		inch := vulgar(n, 64) + " in"
		mm := decimal(n*396875, 6) + " mm"
		a, err1 := Parse(Length, inch)
		b, err2 := Parse(Length, mm)
		if err1 != nil || err2 != nil || a != b {
			t.Errorf("%s = %v, %s = %v (%v, %v)", inch, a, mm, b, err1, err2)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want string // must stand in the message
	}{
		{Length, "40", "has no unit"},
		{Length, "1/2", "has no unit"},
		{Temperature, "1150", "has no unit"},
		{Share, "0.2", "has no unit"},
		{Time, "5 min 30", "has no unit"},
		{Length, "", "is empty"},
		{Length, "  ", "is empty"},
		{Length, "mm", "does not start with a number"},
		{Length, "-", "is empty"},
		{Length, "--5 mm", "does not start with a number"},
		{Length, "NaN mm", "does not start with a number"},
		{Length, "inf mm", "does not start with a number"},
		{Length, "-Inf mm", "does not start with a number"},
		{Length, "0x10 mm", `unknown unit "x"`},
		{Length, "1e400 mm", "is out of all measure"},
		{Length, "1e99999999999999999999 mm", "is out of all measure"},
		{Length, "1e-400 mm", "is out of all measure"},
		{Length, strings.Repeat("9", 50) + " mm", "is out of all measure"},
		{Length, strings.Repeat("9", 500) + " mm", "is too long"},
		{Length, "1/0 in", "divides by zero"},
		{Length, "1-3/2 in", "not smaller than one"},
		{Length, "1-2/2 in", "not smaller than one"},
		{Length, "1.5-1/2 in", "number that cannot be read"},
		{Length, "1 - 1/2 in", "number that cannot be read"},
		{Length, "1-/2 in", "number that cannot be read"},
		{Length, "1/2/3 in", "number that cannot be read"},
		{Length, "10-12 mm", "number that cannot be read"},
		{Length, "1 250 mm", "number that cannot be read"},
		{Length, "1.2.3 mm", "number that cannot be read"},
		{Length, "12,5 mm", "write a decimal point"},
		{Temperature, "1,250 C", "write a decimal point"},
		{Length, "12 furlongs", `unknown unit "furlongs"`},
		{Length, "1 in 3 ft", "large to small"},
		{Length, "1 in 3 in", "large to small"},
		{Length, "1 ft 3 mm", "large to small"},
		{Length, "1 m 20 cm", "large to small"},
		{Length, "1 ft -3 in", `unknown unit "ft -"`},
		{Time, "30 s 1 min", "large to small"},
		{Time, "5 m", "is a length"},
		{Force, "5000 lb", "is a mass"},
		{Force, "3 kg", "is a mass"},
		{Force, "3 t", "unknown unit"},
		{Rotation, "20 /min", "is a rate"},
		{Temperature, "5 mm", "is a length"},
		{Length, "10 %", "is a share"},
		{Pressure, "90 mPa", "unknown unit"},
		{Conductivity, "35 W/m2K", "is a heat transfer coefficient"},
		{Temperature, "1150 °", "unknown unit"},
		{Temperature, "-1 K", "below absolute zero"},
		{Temperature, "-300 C", "below absolute zero"},
		{Temperature, "-500 F", "below absolute zero"},
		{Kind(-1), "5 mm", "not a kind"},
		{kindCount, "5 mm", "not a kind"},
	} {
		got, err := Parse(c.kind, c.text)
		if err == nil {
			t.Errorf("Parse(%v, %q) = %v, want an error", c.kind, c.text, got)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("Parse(%v, %q): %v; want %q in it", c.kind, c.text, err, c.want)
		}
		if c.kind.valid() && !strings.Contains(err.Error(), c.kind.Accepted()) {
			t.Errorf("Parse(%v, %q): %v; does not say what is accepted", c.kind, c.text, err)
		}
	}
}

func TestErrorReads(t *testing.T) {
	_, err := Parse(Length, "40")
	want := `"40" has no unit; accepted is a length with its unit, such as "12 mm" or "1/2 in" (mm, cm, m, in, ft)`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// Every kind has a description, its examples parse, and no two units of a kind
// share a spelling once capitals are ignored.
func TestEveryKind(t *testing.T) {
	for k := range kindCount {
		parts := strings.Split(kinds[k].examples, `"`)
		if kinds[k].name == "" || len(parts) < 3 {
			t.Errorf("kind %d has no name or examples", int(k))
		}
		for i := 1; i < len(parts); i += 2 {
			if _, err := Parse(k, parts[i]); err != nil {
				t.Errorf("the example of %v does not parse: %v", k, err)
			}
		}
		owner := map[string]string{}
		for _, m := range measures[k] {
			for _, name := range m.names {
				if first, taken := owner[plain(name)]; taken && first != m.names[0] {
					t.Errorf("%v: %q means both %s and %s", k, name, first, m.names[0])
				}
				owner[plain(name)] = m.names[0]
				if _, err := Parse(k, "2 "+name); err != nil {
					t.Errorf("%v: listed unit: %v", k, err)
				}
			}
		}
	}
	if Kind(-1).Accepted() == "" || Kind(-1).Units() != nil || kindCount.String() == "" {
		t.Error("a kind that is none must still describe itself")
	}
}

func TestParseSystem(t *testing.T) {
	for text, want := range map[string]System{"metric": Metric, "inch": Inch, "Inch": Inch, " metric ": Metric} {
		if got, err := ParseSystem(text); err != nil || got != want {
			t.Errorf("ParseSystem(%q) = %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "imperial", "mm"} {
		if _, err := ParseSystem(text); err == nil || !strings.Contains(err.Error(), `"metric" or "inch"`) {
			t.Errorf("ParseSystem(%q): %v", text, err)
		}
	}
}

// FuzzParse: no text makes Parse panic, and what it accepts is finite, not
// negative zero, and for temperatures not below absolute zero.
func FuzzParse(f *testing.F) {
	for _, c := range parseCases {
		f.Add(int(c.kind), c.text)
	}
	for _, text := range []string{"", "-", "1/", "1 1/ in", "1e", "1e+ mm", "°", "1\x00mm", "\xff\xfe", "9e30 m", "1e-30 in", "1/1 ft 0/9 in"} {
		f.Add(int(Length), text)
	}
	f.Fuzz(func(t *testing.T, kind int, text string) {
		si, err := Parse(Kind(kind), text)
		if err != nil {
			if si != 0 || err.Error() == "" {
				t.Fatalf("an error comes with %v", si)
			}
			return
		}
		if math.IsNaN(si) || math.IsInf(si, 0) || si == 0 && math.Signbit(si) {
			t.Fatalf("Parse(%v, %q) = %v", Kind(kind), text, si)
		}
		if Kind(kind) == Temperature && si < 0 {
			t.Fatalf("Parse(%q) = %v K", text, si)
		}
	})
}
