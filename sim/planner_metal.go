package sim

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed data/practice.csv
var practiceCSV string

// practice is how far a family of metals may be moved: shares of the height.
type practice struct {
	family, element      string
	least, squeeze, heat float64 // wt %, share, share
}

var practices = readPractice(practiceCSV)

// readPractice reads the table; it is embedded, so a fault in it is a fault of
// the program.
func readPractice(text string) []practice {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic(err)
	}
	var out []practice
	for _, r := range rows[1:] {
		p := practice{family: r[0], element: r[1]}
		for i, v := range []*float64{&p.least, &p.squeeze, &p.heat} {
			if *v, err = strconv.ParseFloat(r[2+i], 64); err != nil {
				panic(fmt.Sprintf("practice table: %v", err))
			}
		}
		out = append(out, p)
	}
	return out
}

// metalLimits is the least of what the stack's layers stand: shares of the
// height in a squeeze and in a heat, and which layer says so.
type metalLimits struct {
	squeeze, heat     float64
	squeezeOf, heatOf string
}

// limitsOf finds the limits of a job's stack.
func limitsOf(j *Job) metalLimits {
	m := metalLimits{squeeze: 1, heat: 1}
	for _, l := range j.Stack.Layers {
		for _, e := range l.Material.Composition {
			for _, p := range practices {
				if p.element != e.Symbol || e.Percent < p.least {
					continue
				}
				name := fmt.Sprintf("%s, a %s", l.Material.Name, p.family)
				if l.Material.Name == p.family {
					name = p.family
				}
				if p.squeeze < m.squeeze {
					m.squeeze, m.squeezeOf = p.squeeze, name
				}
				if p.heat < m.heat {
					m.heat, m.heatOf = p.heat, name
				}
			}
		}
	}
	return m
}
