package plots

import (
	"fmt"
	"math"

	"billet/sim"
	"billet/sim/unit"
)

// shown turns SI quantities into what the job's readers are used to: numbers
// for the axes, text for the labels.
type shown struct{ system unit.System }

func shownIn(j *sim.Job) shown {
	if j.Units == sim.Inch {
		return shown{unit.Inch}
	}
	return shown{unit.Metric}
}

func (s shown) inch() bool { return s.system == unit.Inch }

// degrees is a temperature as a number on an axis.
func (s shown) degrees(tempK float64) float64 {
	if s.inch() {
		return (tempK - unit.ZeroFahrenheit) / unit.FahrenheitKelvins
	}
	return tempK - unit.ZeroCelsius
}

// size is a length as a number on an axis.
func (s shown) size(m float64) float64 {
	if s.inch() {
		return m / unit.InchMetres
	}
	return m * 1000
}

func (s shown) degreeUnit() string {
	if s.inch() {
		return "°F"
	}
	return "°C"
}

// sizeWord is the unit of size as the title of an axis begins.
func (s shown) sizeWord() string {
	if s.inch() {
		return "inches"
	}
	return "mm"
}

// minutes is a time as a number on an axis.
func minutes(seconds float64) float64 { return seconds / 60 }

func (s shown) temperature(tempK float64) string { return s.system.Temperature(tempK) }

// near is a temperature written as finely as its difference from another is
// written beside it.
func (s shown) near(tempK, otherK float64) string {
	if math.Abs(tempK-otherK) < 20 {
		return s.system.ExactTemperature(tempK)
	}
	return s.temperature(tempK)
}

func (s shown) difference(dK float64) string { return s.system.TemperatureDifference(dK) }

func (s shown) length(m float64) string { return s.system.Length(m) }

// each maps f over values.
func each(values []float64, f func(float64) float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = f(v)
	}
	return out
}

// billet describes the stack in a line that fits the page: title, layers,
// size, and a note. A title that is too long is shortened.
func billet(j *sim.Job, s shown, note string) string {
	thick := 0.0
	for _, l := range j.Stack.Layers {
		thick += l.Thickness
	}
	layers := "1 layer"
	if n := len(j.Stack.Layers); n > 1 {
		layers = fmt.Sprintf("%d layers", n)
	}
	text := fmt.Sprintf("%s, %s thick, %s wide, %s long", layers,
		s.length(thick), s.length(j.Stack.Width), s.system.LongLength(j.Stack.Length))
	if note != "" {
		text += " · " + note
	}
	if j.Title != "" {
		text = " · " + text
		text = handSub.fit(j.Title, pageWidth-2*pageMargin-handSub.width(text)) + text
	}
	return text
}

// coldest is what has to reach welding heat: the joints, or the core of a
// single layer.
func coldest(r *sim.Result) (name string, at sim.Maybe) {
	if len(r.Job.Stack.Layers) > 1 {
		return "joints", r.Soak.Answers.JointsAtWeld
	}
	return "core", r.Soak.Answers.CoreAtWeld
}

// historyTitle is the answer of the soak in a sentence.
func historyTitle(r *sim.Result, s shown) string {
	a := r.Soak.Answers
	name, at := coldest(r)
	if !at.OK {
		text := "The core never reaches welding heat"
		if name == "joints" {
			text = "The joints never reach welding heat"
		}
		if gap := r.Job.Weld.Heat - r.Soak.CeilingJoints; gap > 0 {
			text += fmt.Sprintf(": at %s still %s short", whole(s.temperature(r.Soak.CeilingJoints)), whole(s.difference(gap)))
		}
		return text
	}
	text := fmt.Sprintf("%s at welding heat after %s", capital(name), whole(unit.Duration(at.Value)))
	if a.SkinAtWeld.OK {
		if lag := at.Value - a.SkinAtWeld.Value; lag >= 1 {
			text += fmt.Sprintf(", %s after the skin looks ready", whole(unit.Duration(lag)))
		} else {
			text += ", no later than the skin"
		}
	}
	if a.Overheats.OK && a.Soak.OK && a.Overheats.Value < a.Soak.Value {
		text += fmt.Sprintf("; it burns from %s", whole(unit.Duration(a.Overheats.Value)))
	}
	return text
}

// profileTitle says how even the heat is in the end.
func profileTitle(r *sim.Result, s shown) string {
	last := r.Soak.Stages[len(r.Soak.Stages)-1]
	low, high := span(last.Profile.Temperature)
	if high-low < evenEnough {
		return "The heat is even through the thickness when the last stage ends"
	}
	return whole(s.difference(high-low)) + " from hottest to coldest through the thickness when the last stage ends"
}

// evenEnough is a difference nobody can see or measure in a forge: less than
// the last figure temperatures are written to. Common practice, no source.
const evenEnough = 2.5 // K

// sectionTitle says how far the inside lags when the skin looks ready.
func sectionTitle(r *sim.Result, s shown) string {
	when := "When the skin looks ready"
	if !r.Soak.Answers.SkinAtWeld.OK {
		when = "The skin never reaches welding heat: in the end"
	}
	gap := r.Job.Weld.Heat - r.Soak.Section.ColdT
	if gap < evenEnough {
		return when + ", the whole section is at welding heat"
	}
	return fmt.Sprintf("%s the coldest spot is %s short of welding heat", when, whole(s.difference(gap)))
}

// capital writes the first letter large.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}

// span is the least and the largest of values, which must not be empty.
func span(values []float64) (low, high float64) {
	low, high = values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	return low, high
}
