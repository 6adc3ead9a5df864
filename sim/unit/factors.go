package unit

import (
	"math/big"
	"strings"
)

// Conversion constants. Each is the size of the named unit in SI base units
// and exact by definition unless the comment says otherwise.
//
// Sources: [SI] BIPM, The International System of Units (SI Brochure), 9th
// edition, 2019 (from memory); [SP811] NIST Special Publication 811, Guide for
// the Use of the SI, 2008, appendix B.8 and its footnotes (read in
// transcriptions of the table, not in the publication itself).
const (
	InchMetres           = 0.0254                                        // [SP811] inch
	FootMetres           = 12 * InchMetres                               // [SP811] foot, 0.3048
	PoundKilograms       = 0.45359237                                    // avoirdupois; [SP811] footnote 22
	OunceKilograms       = PoundKilograms / 16                           // avoirdupois; sixteen to the pound
	StandardGravity      = 9.80665                                       // m/s²; [SP811] acceleration of free fall, standard
	KilogramForceNewtons = StandardGravity                               // [SP811] kilogram-force
	PoundForceNewtons    = PoundKilograms * StandardGravity              // [SP811] footnote 23, 4.4482216152605
	ShortTonNewtons      = 2000 * PoundForceNewtons                      // the "ton" of a press; [SP811] ton-force (2000 lbf)
	TonneNewtons         = 1000 * KilogramForceNewtons                   // the "tonne" of a press, 1000 kgf
	FootPoundJoules      = FootMetres * PoundForceNewtons                // [SP811] foot pound-force
	HorsepowerWatts      = 550 * FootPoundJoules                         // [SP811] horsepower (550 ft·lbf/s)
	PSIPascals           = PoundForceNewtons / (InchMetres * InchMetres) // [SP811] pound-force per square inch
	KSIPascals           = 1000 * PSIPascals                             // [SP811] kip per square inch
	BarPascals           = 1e5                                           // [SP811] table 9
	MinuteSeconds        = 60                                            // [SI] table 8
	HourSeconds          = 3600                                          // [SI] table 8
	ZeroCelsius          = 273.15                                        // K; [SI] section 2.3.1, [SP811] T/K = t/°C + 273.15
	FahrenheitKelvins    = 1 / 1.8                                       // one degree as a difference; [SP811] degree Fahrenheit
	ZeroFahrenheit       = 459.67 / 1.8                                  // K; [SP811] T/K = (t/°F + 459.67)/1.8
	RPMRadians           = 2 * pi / 60                                   // rad/s; irrational, rounded to a float64; [SP811] rpm
)

// pi has more digits than a float64 or a 40-digit job value can use.
const pi = 3.14159265358979323846264338327950288419716939937511

// measure is one unit of one kind: a value x of it is x·factor + offset in SI.
// The factors are exact rational numbers (rpm apart), so the same size written
// in two ways, "12.7 mm" and "1/2 in", becomes the same float64.
type measure struct {
	names  []string // as written; the first is the one named in messages
	factor *big.Rat
	offset *big.Rat // nil for none; only temperatures have one
	sum    string   // units with the same sum may follow each other, large to small
}

// define makes a measure from its exact factor, a product of rational numbers
// separated by spaces ("0.45359237 1/16").
func define(factor string, names ...string) measure {
	return measure{names: names, factor: product(factor)}
}

// from sets the offset of a temperature scale.
func (m measure) from(offset string) measure {
	m.offset = product(offset)
	return m
}

// in lets the unit stand in sums with the others of the family.
func (m measure) in(family string) measure {
	m.sum = family
	return m
}

// The exact defining numbers again, as text for exact arithmetic; a test holds
// them to the constants above.
const (
	inchText  = "0.0254"
	poundText = "0.45359237"
	lbfText   = "0.45359237 9.80665"
	psiText   = lbfText + " 1/0.00064516"
	rpmText   = "3.14159265358979323846264338327950288419716939937511 1/30"
)

// measures lists the accepted units, kind by kind.
var measures = [kindCount][]measure{
	Length: {
		define("1/1000", "mm", "millimeter", "millimeters", "millimetre", "millimetres"),
		define("1/100", "cm", "centimeter", "centimeters", "centimetre", "centimetres"),
		define("1", "m", "meter", "meters", "metre", "metres"),
		define(inchText, "in", `"`, "inch", "inches").in("foot"),
		define("12 "+inchText, "ft", "'", "foot", "feet").in("foot"),
	},
	Temperature: {
		define("1", celsiusNames...).from("273.15"),
		define("5/9", fahrenheitNames...).from("459.67 5/9"),
		define("1", kelvinNames...),
	},
	TemperatureDifference: {
		define("1", celsiusNames...),
		define("5/9", fahrenheitNames...),
		define("1", kelvinNames...),
	},
	Time: {
		define("1", "s", "sec", "secs", "second", "seconds").in("hour"),
		define("60", "min", "mins", "minute", "minutes").in("hour"),
		define("3600", "h", "hr", "hrs", "hour", "hours").in("hour"),
	},
	Force: {
		define("1", "N", "newton", "newtons"),
		define("1000", "kN", "kilonewton", "kilonewtons"),
		define(lbfText, "lbf", "pound-force", "pounds-force"),
		define("2000 "+lbfText, "ton", "tons", "short ton", "short tons", "US ton", "US tons"),
		define("9806.65", "tonne", "tonnes", "metric ton", "metric tons"),
		define("9.80665", "kgf", "kp"),
	},
	Speed: {
		define("1/1000", "mm/s", "mm/sec"),
		define("1/100", "cm/s", "cm/sec"),
		define("1", "m/s", "m/sec"),
		define(inchText, "in/s", "in/sec", "inch/s", "inch/sec", "inches/s", "ips"),
		define("12 "+inchText, "ft/s", "ft/sec", "fps"),
	},
	Rotation: {
		define(rpmText, "rpm", "rev/min", "r/min"),
	},
	Rate: {
		define("1/60", "/min", "1/min", "per min", "per minute", "/minute", "blows/min", "bpm"),
		define("1", "/s", "1/s", "per s", "per sec", "per second", "/sec"),
	},
	Power: {
		define("1", "W", "watt", "watts"),
		define("1000", "kW", "kilowatt", "kilowatts"),
		define("550 12 "+inchText+" "+lbfText, "hp", "horsepower"),
	},
	Energy: {
		define("1", "J", "joule", "joules"),
		define("1000", "kJ", "kilojoule", "kilojoules"),
		define("12 "+inchText+" "+lbfText, "ft lbf", "ft-lbf", "ftlbf", "ft lb", "ft-lb", "ft lbs", "ft-lbs"),
	},
	Frequency: {
		define("1", "Hz", "hertz"),
		define("1000", "kHz", "kilohertz"),
	},
	Pressure: {
		define("1000000", "MPa", "N/mm2"),
		define("1000 "+psiText, "ksi"),
		define(psiText, "psi", "lbf/in2"),
		define("100000", "bar", "bars"),
		define("1000", "kPa"),
		define("1", "Pa"),
	},
	Conductance:  {define("1", perKelvin("W/m2")...), define("1000", perKelvin("kW/m2")...)},
	Conductivity: {define("1", perKelvin("W/m")...)},
	HeatCapacity: {define("1", perKelvin("J/kg")...), define("1000", perKelvin("kJ/kg")...)},
	Density: {
		define("1", "kg/m3"),
		define("1000", "g/cm3", "g/cc"),
		define(poundText+" 1/0.000016387064", "lb/in3"),
	},
	Share: {
		define("1/100", "%", "percent", "per cent"),
	},
	Mass: {
		define("1", "kg", "kilogram", "kilograms"),
		define("1/1000", "g", "gram", "grams"),
		define(poundText, "lb", "lbs", "pound", "pounds").in("pound"),
		define(poundText+" 1/16", "oz", "ounce", "ounces").in("pound"),
	},
}

var (
	celsiusNames    = []string{"C", "°C", "deg C", "degC", "degrees C", "Celsius", "degrees Celsius"}
	fahrenheitNames = []string{"F", "°F", "deg F", "degF", "degrees F", "Fahrenheit", "degrees Fahrenheit"}
	kelvinNames     = []string{"K", "°K", "kelvin", "kelvins"}
)

// perKelvin spells "over" divided by a kelvin in the ways people write it:
// W/m2K, W/m2 K, W/(m2K), W/(m2 K), W/m2/K, and each with C for K.
func perKelvin(over string) []string {
	num, den, _ := strings.Cut(over, "/")
	var names []string
	for _, deg := range []string{"K", "C", "°C"} {
		names = append(names,
			over+deg, over+" "+deg, over+"-"+deg, over+"/"+deg,
			num+"/("+den+deg+")", num+"/("+den+" "+deg+")")
	}
	return names
}
