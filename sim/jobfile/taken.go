package jobfile

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed data/taken.csv
var takenText string

// taken is a value a job leaves open, with the range it may lie in. Its
// source stands in data/taken.csv.
type taken struct {
	value, low, high float64
	unit             string
}

// String is "1000 W/m²K; 300 to 5000 is usual".
func (v taken) String() string {
	u := strings.Replace(v.unit, "m2", "m²", 1)
	return fmt.Sprintf("%s %s; %s to %s is usual", trim(v.value), u, trim(v.low), trim(v.high))
}

// readTaken reads the embedded table. A fault in it is a fault of the
// program, which the tests catch.
func readTaken() map[string]taken {
	rows, err := csv.NewReader(strings.NewReader(takenText)).ReadAll()
	if err != nil {
		panic("jobfile: data/taken.csv: " + err.Error())
	}
	all := make(map[string]taken, len(rows))
	for _, row := range rows[1:] {
		var x [3]float64
		for i, col := range []int{1, 3, 4} {
			if x[i], err = strconv.ParseFloat(row[col], 64); err != nil {
				panic("jobfile: data/taken.csv: " + err.Error())
			}
		}
		all[row[0]] = taken{value: x[0], low: x[1], high: x[2], unit: row[2]}
	}
	return all
}
