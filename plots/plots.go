// Package plots draws a run's pictures from its Result: no physics, no files,
// no terminal. Every picture is a title that states the answer in words, the
// job's own units on the axes, and labels beside what they name instead of a
// legend. The same Result gives the same bytes.
//
// All lengths inside a picture are points of 1/72 inch (vg.Length); all
// quantities taken from the Result are SI and kelvin, turned into the job's
// system of units by words.go alone.
package plots

import (
	"bytes"
	"fmt"
	"strings"

	"billet/sim"
)

// Format is the file format of a picture.
type Format int

// The formats.
const (
	SVG Format = iota
	PNG
)

// formatNames are the words for the formats, by Format.
var formatNames = [...]string{"svg", "png"}

// ParseFormat reads "svg" or "png", in any case.
func ParseFormat(s string) (Format, error) {
	for i, name := range formatNames {
		if strings.EqualFold(s, name) {
			return Format(i), nil
		}
	}
	return 0, fmt.Errorf("picture format: %q; svg or png", s)
}

// String is the format's name, which is also the file's extension.
func (f Format) String() string {
	if f < 0 || int(f) >= len(formatNames) {
		return fmt.Sprintf("Format(%d)", int(f))
	}
	return formatNames[f]
}

// Figure is one finished picture.
type Figure struct {
	Name   string // file stem, such as "soak-history"
	Title  string // what the picture says, as written over it
	Bytes  []byte
	Format Format
}

// Soak draws the heats in the forge: temperature against time
// ("soak-history"), through the thickness at the end of each stage
// ("soak-profile"), and over the section when the skin looks ready
// ("soak-section"), in that order. A Result without a section gives the first
// two. It returns an error, naming the series, if a number to be drawn is not
// finite or the series do not fit together.
func Soak(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkSoak, soakSheets)
}

// Passes draws the passes: thickness, width and temperature after and at each
// ("passes-size"), and force, in the rolls power and torque too, against what
// the machine has ("passes-force"), in that order; the second is left out
// where nothing is squeezed. Errors are as of Soak.
func Passes(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkWork, passesSheets)
}

// Drift draws where the core goes: end views at true scale
// ("drift-sections"), offset against pass under the flipping habits
// ("drift-passes"), the causes ("drift-causes"), thickness and offset along
// the finished bar ("drift-along"), offset across it ("drift-across") and the
// flow of the squeeze that moved the core most ("drift-flow"), in that order;
// one for which the Result has nothing is left out. Errors are as of Soak.
func Drift(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkWork, driftSheets)
}

// Lesson draws the causes of drift one by one on a page to be printed
// ("lesson"). Errors are as of Soak.
func Lesson(r *sim.Result, f Format) ([]Figure, error) {
	return draw(r, f, checkLesson, lessonSheets)
}

// draw checks a result, lays out its sheets and renders them.
func draw(r *sim.Result, f Format, check func(*sim.Result) error, lay func(*sim.Result) []*sheet) ([]Figure, error) {
	if f < 0 || int(f) >= len(formatNames) {
		return nil, fmt.Errorf("picture format: %v; SVG or PNG", f)
	}
	if err := check(r); err != nil {
		return nil, err
	}
	sheets := lay(r)
	figures := make([]Figure, len(sheets))
	for i, s := range sheets {
		var b bytes.Buffer
		if err := s.write(&b, f); err != nil {
			return nil, fmt.Errorf("picture %s: %w", s.name, err)
		}
		figures[i] = Figure{Name: s.name, Title: s.title, Bytes: b.Bytes(), Format: f}
	}
	return figures, nil
}

// soakSheets lays out the pictures of the heats in the forge.
func soakSheets(r *sim.Result) []*sheet {
	all := []*sheet{soakHistory(r).sheet(), soakProfile(r).sheet()}
	if len(r.Soak.Section.Temperature) > 0 {
		all = append(all, soakSection(r).sheet())
	}
	return all
}
