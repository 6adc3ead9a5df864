package sim

import (
	"fmt"
	"math"
)

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
