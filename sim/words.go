package sim

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
)

var figure = regexp.MustCompile(`\d+(\.\d+)?`)

// sameBut is a sentence without its figures.
func sameBut(text string) string { return figure.ReplaceAllString(text, "#") }

var metricSize = regexp.MustCompile(`(\d+(?:\.\d+)?) (mm|kN)\b`)

// inUnits turns the millimetres and kilonewtons of a sentence from the layer
// model into the job's units.
func inUnits(j *Job, text string) string {
	if j.Units != Inch {
		return text
	}
	return metricSize.ReplaceAllStringFunc(text, func(s string) string {
		m := metricSize.FindStringSubmatch(s)
		v, _ := strconv.ParseFloat(m[1], 64)
		if m[2] == "kN" {
			return fmt.Sprintf("%.1f ton", v/8.896443) // 2000 lbf
		}
		return fmt.Sprintf("%.2f in", v/25.4)
	})
}

// lengthWords is a length as the job's units have it.
func lengthWords(j *Job, m float64) string {
	if j.Units == Inch {
		return fmt.Sprintf("%.2f in", m/25.4e-3)
	}
	return fmt.Sprintf("%.1f mm", m*1e3)
}

// tempWords is a temperature as the job's units have it.
func tempWords(j *Job, k float64) string {
	if j.Units == Inch {
		return fmt.Sprintf("%.0f °F", math.Round(((k-273.15)*1.8+32)/10)*10)
	}
	return fmt.Sprintf("%.0f °C", math.Round((k-273.15)/5)*5)
}

// stepWords is a difference of temperatures as the job's units have it.
func stepWords(j *Job, dK float64) string {
	if j.Units == Inch {
		return fmt.Sprintf("%.0f °F", math.Round(dK*1.8/5)*5)
	}
	return fmt.Sprintf("%.0f °C", math.Round(dK/5)*5)
}

// fineWords is a small length as the job's units have it.
func fineWords(j *Job, m float64) string {
	if j.Units == Inch {
		return fmt.Sprintf("%.3f in", m/25.4e-3)
	}
	return fmt.Sprintf("%.2f mm", m*1e3)
}
