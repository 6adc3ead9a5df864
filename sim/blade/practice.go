package blade

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
)

// Habit is a band of common practice: an opinion to show beside an answer and
// to mark as such, never a check of it.
type Habit struct {
	What      string
	Low, High float64 // SI: m, or a share of 1
	Status    string  // always "common practice, no source"
}

// Holds tells whether v (m, or a share of 1) lies in the band.
func (h Habit) Holds(v float64) bool { return v >= h.Low && v <= h.High }

//go:embed data/practice.csv
var practiceText string

var practice = readPractice()

// Practice lists what makers take or get, in a fixed order.
func Practice() []Habit { return append([]Habit{}, practice...) }

// readPractice reads the embedded rows; a fault in them is a fault of the
// program, which every test of the package would meet.
func readPractice() []Habit {
	r := csv.NewReader(strings.NewReader(practiceText))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		panic("blade: practice.csv: " + err.Error())
	}
	scale := map[string]float64{"mm": 1e-3, "%": 1e-2}
	var out []Habit
	for _, row := range rows[1:] {
		low, err1 := strconv.ParseFloat(row[1], 64)
		high, err2 := strconv.ParseFloat(row[2], 64)
		f, ok := scale[row[3]]
		if err1 != nil || err2 != nil || !ok || row[6] != "common practice" {
			panic("blade: practice.csv: " + strings.Join(row, ","))
		}
		out = append(out, Habit{What: row[0], Low: low * f, High: high * f, Status: "common practice, no source"})
	}
	return out
}
