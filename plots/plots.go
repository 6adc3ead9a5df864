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
	if f < 0 || int(f) >= len(formatNames) {
		return nil, fmt.Errorf("picture format: %v; SVG or PNG", f)
	}
	if err := checkSoak(r); err != nil {
		return nil, err
	}
	sheets := []*sheet{soakHistory(r).sheet(), soakProfile(r).sheet()}
	if len(r.Soak.Section.Temperature) > 0 {
		sheets = append(sheets, soakSection(r).sheet())
	}
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
