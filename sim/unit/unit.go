// Package unit turns text with a unit into SI numbers, and SI numbers into
// text a shop can use. It is the only place where units are converted: all
// other packages hold plain float64 values in SI base units, temperatures in
// kelvin.
//
// [Parse] reads "1-1/2 in", "1150 °C", "1 min 30 s", "25 ton". The methods of
// [System], [Duration] and [DurationRange] write in the user's system, rounded
// to what can be set or measured at a forge. What they write of one number in one
// system, Parse reads back.
package unit

import "fmt"

// Kind is the kind of quantity a text stands for. It decides which units are
// accepted and in which SI unit the number comes back.
type Kind int

// The kinds, each with the SI unit of its number.
const (
	Length                Kind = iota // m
	Temperature                       // K
	TemperatureDifference             // K
	Time                              // s
	Force                             // N
	Speed                             // m/s
	Rotation                          // rad/s, from rpm
	Rate                              // 1/s, from /min
	Power                             // W
	Energy                            // J
	Frequency                         // Hz
	Pressure                          // Pa; also stress
	Conductance                       // W/(m² K); film or contact
	Conductivity                      // W/(m K)
	HeatCapacity                      // J/(kg K)
	Density                           // kg/m³
	Share                             // fraction: 0.20 % is 0.0020
	Mass                              // kg
	kindCount
)

// kinds holds what messages say of each kind.
var kinds = [kindCount]struct{ name, article, examples string }{
	Length:                {"length", "a", `"12 mm" or "1/2 in"`},
	Temperature:           {"temperature", "a", `"1150 C" or "2100 F"`},
	TemperatureDifference: {"temperature difference", "a", `"5 C" or "10 F"`},
	Time:                  {"time", "a", `"45 s" or "1 min 30 s"`},
	Force:                 {"force", "a", `"25 ton" or "220 kN"`},
	Speed:                 {"speed", "a", `"12 mm/s" or "1/2 in/s"`},
	Rotation:              {"speed of rotation", "a", `"20 rpm"`},
	Rate:                  {"rate", "a", `"60 /min"`},
	Power:                 {"power", "a", `"2 kW" or "3 hp"`},
	Energy:                {"energy", "an", `"40 J" or "30 ft lbf"`},
	Frequency:             {"frequency", "a", `"10 kHz"`},
	Pressure:              {"pressure or stress", "a", `"160 bar" or "2300 psi"`},
	Conductance:           {"heat transfer coefficient", "a", `"30 W/m2K"`},
	Conductivity:          {"thermal conductivity", "a", `"35 W/mK"`},
	HeatCapacity:          {"heat capacity", "a", `"620 J/kgK"`},
	Density:               {"density", "a", `"7850 kg/m3"`},
	Share:                 {"share", "a", `"0.20 %"`},
	Mass:                  {"mass", "a", `"1.5 kg" or "3 lb 4 oz"`},
}

func (k Kind) valid() bool { return k >= 0 && k < kindCount }

// String names the kind: "length", "temperature difference".
func (k Kind) String() string {
	if !k.valid() {
		return fmt.Sprintf("Kind(%d)", int(k))
	}
	return kinds[k].name
}

// Accepted says what a text of this kind looks like, ready to stand in a
// message: a length with its unit, such as "12 mm" or "1/2 in".
func (k Kind) Accepted() string {
	if !k.valid() {
		return "nothing: " + k.String() + " is not a kind of quantity"
	}
	d := kinds[k]
	return fmt.Sprintf("%s %s with its unit, such as %s", d.article, d.name, d.examples)
}

// Units lists the units accepted for the kind, by their first name.
func (k Kind) Units() []string {
	if !k.valid() {
		return nil
	}
	var names []string
	for _, m := range measures[k] {
		names = append(names, m.names[0])
	}
	return names
}
