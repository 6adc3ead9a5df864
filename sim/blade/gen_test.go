package blade

import (
	"math"

	"pgregory.net/rapid"
)

// anyBlade draws any blade Check accepts, of knife sizes and beyond.
func anyBlade(t *rapid.T) Blade {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	b := Blade{Spine: f("spine", 1e-3, 10e-3), Height: f("height", 10e-3, 60e-3), Length: f("length", 50e-3, 400e-3)}
	b.TipSpine = b.Spine * f("tip", 0.3, 1)
	b.Edge = b.TipSpine * f("edge", 0, 0.9)
	b.Grind = Grind{
		Kind:   Kind(rapid.IntRange(0, 3).Draw(t, "kind")),
		Height: b.Height * f("bevel", 0.1, 1),
		Wheel:  f("wheel", 20e-3, 3),
		Bulge:  f("bulge", 0, 1e-3),
		SideA:  rapid.Bool().Draw(t, "side A"),
	}
	return b
}

// anyBar draws a bar with bent, wavy layers, sometimes too small for b.
func anyBar(t *rapid.T, b Blade) Bar {
	layers := rapid.SliceOfN(rapid.Float64Range(0.05, 1), 1, 7).Draw(t, "layers")
	sum := 0.0
	for _, l := range layers {
		sum += l
	}
	thick := b.Spine * rapid.Float64Range(0.8, 3).Draw(t, "thickness")
	for i := range layers {
		layers[i] *= thick / sum
	}
	width := b.Height * rapid.Float64Range(0.9, 2).Draw(t, "width")
	length := b.Length * rapid.Float64Range(0.9, 2).Draw(t, "bar length")
	bar := Even(width, length, layers, rapid.IntRange(0, len(layers)-1).Draw(t, "core"))
	n := rapid.IntRange(1, 4).Draw(t, "sections")
	flat := bar.Sections[0]
	bar.Sections = nil
	for i := range n {
		bar.Sections = append(bar.Sections, bent(t, flat, length*(float64(i)+0.5)/float64(n)))
	}
	return bar
}

// bent is a section with its lines scaled about the middle and bowed.
func bent(t *rapid.T, s Section, x float64) Section {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	swell, slope, bow := f("swell", -0.2, 0.2), f("slope", -0.02, 0.02), f("bow", -1, 1)
	out := Section{X: x, Left: s.Left, Right: s.Right}
	const n = 9
	for _, l := range s.Lines {
		var y, z []float64
		for i := range n {
			p := s.Left + (s.Right-s.Left)*float64(i)/(n-1)
			y = append(y, p)
			z = append(z, l.Z[0]*(1+swell*math.Sin(200*p))+slope*p+bow*p*p)
		}
		out.Lines = append(out.Lines, Line{Y: y, Z: z})
	}
	return out
}

func anyPlace(t *rapid.T, bar Bar, b Blade) Place {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	p := bar.Middle(b.Length, f("from side", 0, 10e-3), rapid.Bool().Draw(t, "right"))
	p.Offset, p.Tilt, p.Turn = f("offset", -1e-3, 1e-3), f("tilt", -0.05, 0.05), f("turn", -0.01, 0.01)
	p.TipFront = rapid.Bool().Draw(t, "tip front")
	if !p.TipFront {
		p.Heel -= b.Length
	}
	return p
}
