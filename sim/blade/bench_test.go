package blade

import "testing"

func benchmark(b *testing.B, ask Ask, layers int) {
	t := make([]float64, layers)
	for i := range t {
		t[i] = 6e-3 / float64(layers)
	}
	bar := Even(40e-3, 140e-3, t, layers/2)
	s := bar.Sections[0]
	for i, l := range s.Lines { // as many points as the section model's lines
		s.Lines[i] = Line{}
		for k := range 25 {
			s.Lines[i].Y = append(s.Lines[i].Y, l.Y[0]+(l.Y[1]-l.Y[0])*float64(k)/24)
			s.Lines[i].Z = append(s.Lines[i].Z, l.Z[0])
		}
	}
	two := s
	two.X += 10e-3
	bar.Sections = []Section{s, two}
	blade := hunter()
	for b.Loop() {
		if _, err := Cut(bar, blade, bar.Middle(blade.Length, 3e-3, true), ask); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThree(b *testing.B)      { benchmark(b, Ask{}, 3) }
func BenchmarkThreeBrief(b *testing.B) { benchmark(b, Ask{Brief: true}, 3) }
func BenchmarkMany(b *testing.B)       { benchmark(b, Ask{}, 85) }
