package unit

import (
	"fmt"
	"strings"
)

// System is the set of units a user wants to read. The zero value is Metric.
type System int

// The systems of units.
const (
	Metric System = iota // mm, °C, kN, bar
	Inch                 // in, °F, ton of 2000 lbf, psi
)

// ParseSystem reads "metric" or "inch"; capitals do not matter.
func ParseSystem(text string) (System, error) {
	for s := Metric; s <= Inch; s++ {
		if strings.EqualFold(strings.TrimSpace(text), s.String()) {
			return s, nil
		}
	}
	return Metric, fmt.Errorf(`%q is not a system of units; accepted is "metric" or "inch"`, text)
}

// String is the name ParseSystem reads.
func (s System) String() string {
	if s == Inch {
		return "inch"
	}
	return "metric"
}

// pick takes the rule of the system.
func (s System) pick(metric, inch []grade) []grade {
	if s == Inch {
		return inch
	}
	return metric
}

// The rules. Their steps are common practice, no source: a shop sets sizes to
// 0.1 mm or 1/32 in, works in hundredths and thousandths when it finishes, and
// trusts no forge temperature to better than 5 °C or 10 °F. Forces, powers and
// the like get two figures, three at most.
var (
	fineMetric = []grade{{unit: "mm", size: 1e-3, step: 1, decimals: 2}}
	fineInch   = []grade{{unit: "in", size: InchMetres, step: 1, decimals: 3}}

	exactCelsius    = []grade{{unit: "°C", size: 1, step: 1}}
	exactFahrenheit = []grade{{unit: "°F", size: FahrenheitKelvins, step: 1}}

	celsius = []grade{
		{unit: "°C", size: 1, step: 1, below: 100},
		{unit: "°C", size: 1, step: 5},
	}
	fahrenheit = []grade{
		{unit: "°F", size: FahrenheitKelvins, step: 1, below: 200},
		{unit: "°F", size: FahrenheitKelvins, step: 10},
	}
	celsiusDifference = []grade{
		{unit: "°C", size: 1, step: 1, decimals: 1, below: 2},
		{unit: "°C", size: 1, step: 1, below: 20},
		{unit: "°C", size: 1, step: 5},
	}
	fahrenheitDifference = []grade{
		{unit: "°F", size: FahrenheitKelvins, step: 1, decimals: 1, below: 4},
		{unit: "°F", size: FahrenheitKelvins, step: 1, below: 40},
		{unit: "°F", size: FahrenheitKelvins, step: 10},
	}
	forceMetric = []grade{
		{unit: "N", size: 1, step: 1, below: 100},
		{unit: "N", size: 1, step: 10, below: 1000},
		{unit: "kN", size: 1e3, step: 1, decimals: 1, below: 10},
		{unit: "kN", size: 1e3, step: 1, below: 100},
		{unit: "kN", size: 1e3, step: 5, below: 1000},
		{unit: "kN", size: 1e3, step: 10},
	}
	forceInch = []grade{
		{unit: "lbf", size: PoundForceNewtons, step: 1, below: 100},
		{unit: "lbf", size: PoundForceNewtons, step: 10, below: 2000},
		{unit: "ton", size: ShortTonNewtons, step: 1, decimals: 1, below: 10},
		{unit: "ton", size: ShortTonNewtons, step: 1, below: 100},
		{unit: "ton", size: ShortTonNewtons, step: 5},
	}
	massMetric = []grade{
		{unit: "g", size: 1e-3, step: 1, decimals: 1, below: 10},
		{unit: "g", size: 1e-3, step: 1, below: 100},
		{unit: "g", size: 1e-3, step: 5, below: 1000},
		{unit: "kg", size: 1, step: 1, decimals: 2, below: 10},
		{unit: "kg", size: 1, step: 1, decimals: 1, below: 100},
		{unit: "kg", size: 1, step: 1},
	}
	massInch = []grade{
		{unit: "oz", size: OunceKilograms, step: 1, decimals: 1, below: 16},
		{unit: "lb", size: PoundKilograms, step: 1, decimals: 1, below: 100},
		{unit: "lb", size: PoundKilograms, step: 1},
	}
	powerMetric = []grade{
		{unit: "W", size: 1, step: 1, below: 100},
		{unit: "W", size: 1, step: 10, below: 1000},
		{unit: "kW", size: 1e3, step: 1, decimals: 1, below: 100},
		{unit: "kW", size: 1e3, step: 1},
	}
	powerInch = []grade{
		{unit: "hp", size: HorsepowerWatts, step: 1, decimals: 2, below: 1},
		{unit: "hp", size: HorsepowerWatts, step: 1, decimals: 1, below: 100},
		{unit: "hp", size: HorsepowerWatts, step: 1},
	}
	pressureMetric = []grade{
		{unit: "bar", size: BarPascals, step: 1, decimals: 1, below: 10},
		{unit: "bar", size: BarPascals, step: 1, below: 100},
		{unit: "bar", size: BarPascals, step: 5},
	}
	pressureInch = []grade{
		{unit: "psi", size: PSIPascals, step: 1, below: 100},
		{unit: "psi", size: PSIPascals, step: 10, below: 1000},
		{unit: "psi", size: PSIPascals, step: 50},
	}
	stressMetric = []grade{
		{unit: "MPa", size: 1e6, step: 1, decimals: 1, below: 10},
		{unit: "MPa", size: 1e6, step: 1, below: 100},
		{unit: "MPa", size: 1e6, step: 5},
	}
	stressInch = []grade{
		{unit: "ksi", size: KSIPascals, step: 1, decimals: 1, below: 20},
		{unit: "ksi", size: KSIPascals, step: 1},
	}
	speedMetric = []grade{
		{unit: "mm/s", size: 1e-3, step: 1, decimals: 1, below: 20},
		{unit: "mm/s", size: 1e-3, step: 1, below: 200},
		{unit: "mm/s", size: 1e-3, step: 10, below: 1000},
		{unit: "m/s", size: 1, step: 1, decimals: 1},
	}
	speedInch = []grade{
		{unit: "in/s", size: InchMetres, step: 1, decimals: 2, below: 2},
		{unit: "in/s", size: InchMetres, step: 1, decimals: 1, below: 12},
		{unit: "ft/s", size: FootMetres, step: 1, decimals: 1},
	}
	energyMetric = []grade{
		{unit: "J", size: 1, step: 1, below: 100},
		{unit: "J", size: 1, step: 10, below: 1000},
		{unit: "kJ", size: 1e3, step: 1, decimals: 1, below: 100},
		{unit: "kJ", size: 1e3, step: 1},
	}
	energyInch = []grade{
		{unit: "ft lbf", size: FootPoundJoules, step: 1, below: 100},
		{unit: "ft lbf", size: FootPoundJoules, step: 10},
	}
	turning = []grade{
		{unit: "rpm", size: RPMRadians, step: 1, decimals: 1, below: 10},
		{unit: "rpm", size: RPMRadians, step: 1},
	}
	percent = []grade{
		{unit: "%", size: 0.01, step: 1, decimals: 2, below: 2},
		{unit: "%", size: 0.01, step: 1, decimals: 1, below: 10},
		{unit: "%", size: 0.01, step: 1},
	}
)

// ExactTemperature writes a temperature in kelvin to 1 °C or 1 °F: what a job
// asked for, not what was computed.
func (s System) ExactTemperature(k float64) string {
	return write(k-s.zero(), s.pick(exactCelsius, exactFahrenheit))
}

// Temperature writes a temperature in kelvin as advice: to 5 °C from 100 °C up
// and to 10 °F from 200 °F up, to a degree below.
func (s System) Temperature(k float64) string {
	return write(k-s.zero(), s.pick(celsius, fahrenheit))
}

// zero is the zero of the system's temperature scale, K.
func (s System) zero() float64 {
	if s == Inch {
		return ZeroFahrenheit
	}
	return ZeroCelsius
}

// TemperatureDifference writes a difference in kelvin: to 0.1 °C below 2 °C,
// to 1 °C below 20 °C, then to 5 °C; in °F to 0.1 below 4, to 1 below 40, then
// to 10.
func (s System) TemperatureDifference(dk float64) string {
	return write(dk, s.pick(celsiusDifference, fahrenheitDifference))
}

// Force writes newtons as N and kN, or lbf and tons of 2000 lbf: "245 kN",
// "27 ton".
func (s System) Force(n float64) string { return write(n, s.pick(forceMetric, forceInch)) }

// Mass writes kilograms as g and kg, or oz and lb: "1.25 kg", "2.8 lb".
func (s System) Mass(kg float64) string { return write(kg, s.pick(massMetric, massInch)) }

// Power writes watts as W and kW, or hp.
func (s System) Power(w float64) string { return write(w, s.pick(powerMetric, powerInch)) }

// Energy writes joules as J and kJ, or ft lbf.
func (s System) Energy(j float64) string { return write(j, s.pick(energyMetric, energyInch)) }

// Pressure writes pascals as a gauge shows them, in bar or psi. For stress in
// metal see Stress.
func (s System) Pressure(pa float64) string { return write(pa, s.pick(pressureMetric, pressureInch)) }

// Stress writes pascals in MPa or ksi.
func (s System) Stress(pa float64) string { return write(pa, s.pick(stressMetric, stressInch)) }

// Speed writes metres a second as mm/s and m/s, or in/s and, from 12 in/s up,
// ft/s.
func (s System) Speed(mps float64) string { return write(mps, s.pick(speedMetric, speedInch)) }

// Rotation writes radians a second in rpm, the same in both systems.
func (s System) Rotation(radps float64) string { return write(radps, turning) }

// Share writes a fraction in per cent, the same in both systems: to 0.01 %
// below 2 %, so that carbon contents keep their digits, to 0.1 % below 10 %,
// then whole.
func (s System) Share(fraction float64) string { return write(fraction, percent) }
