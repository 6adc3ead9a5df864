package benchmarks

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"billet/layers"
)

// standardBar is 12/14/12 mm of one steel, 38 mm wide.
func standardBar(b *testing.B, mesh layers.Mesh) *layers.Stack {
	b.Helper()
	law := func(_, rate, tempK float64) float64 {
		return 60e6 * math.Pow(rate, 0.13) * math.Exp(5000/tempK-5000.0/1373)
	}
	bar := []layers.Layer{{Thickness: 0.012, Strength: law}, {Thickness: 0.014, Strength: law}, {Thickness: 0.012, Strength: law}}
	s, err := layers.NewStack(0.038, 0.12, bar, nil, 1, mesh)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// squeeze closes by 15 %, side B 100 K colder and stickier.
func squeeze(step float64) layers.Squeeze {
	return layers.Squeeze{
		To: 0.85 * 0.038, Bite: 0.038, Speed: 0.02, Step: step,
		Top: layers.Face{Friction: 0.3}, Bottom: layers.Face{Friction: 0.8},
		Temperature: func(_, through float64) float64 { return 1323 + 100*through },
	}
}

func benchSqueeze(b *testing.B, mesh layers.Mesh, step float64, limit time.Duration) {
	b.ReportAllocs()
	start := standardBar(b, mesh)
	for b.Loop() {
		s := start.Clone()
		if _, err := s.Press(squeeze(step)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(limit), "of-limit")
}

// Half section of 6 x (2+2+2) elements, 98 nodal unknowns: at most 5 ms.
func BenchmarkSqueezeCoarse(b *testing.B) {
	benchSqueeze(b, layers.Mesh{}, 0, 5*time.Millisecond)
}

// Half section of 24 x (8+8+8) elements, 1250 nodal unknowns: at most 0.4 s.
func BenchmarkSqueezeFine(b *testing.B) {
	benchSqueeze(b, layers.Mesh{Columns: 24, PerLayer: 8}, 0.02, 400*time.Millisecond)
}

// benchReplay presses the standard bar in twelve squeezes to 8.8 mm with the
// three-dimensional corrections, the top tool tilted by tilt m over the width
// times a normal draw for each squeeze.
func benchReplay(b *testing.B, tilt float64, limit time.Duration) {
	b.ReportAllocs()
	press := layers.Press{Force: 1e9, Along: 0.038, Across: 0.1, Speed: 0.02, FrictionTop: 0.4, FrictionBottom: 0.4}
	start := standardBar(b, layers.Mesh{})
	for b.Loop() {
		r := rand.New(rand.NewPCG(1, 1))
		s := start.Clone()
		for k := range 12 {
			p := layers.Pass{To: 0.036 * math.Pow(0.88, float64(k)), Slope: tilt * r.NormFloat64() / s.Width(),
				Temperature: func(_, through float64) float64 { return 1323 + 50*through }}
			if _, err := press.Pass(s, p); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(limit), "of-limit")
}

// Half the width: 1000 replays within 60 s on two cores.
func BenchmarkReplay(b *testing.B) { benchReplay(b, 0, 120*time.Millisecond) }

// The whole width under tools out of true by 0.3 mm: the same.
func BenchmarkTiltedReplay(b *testing.B) { benchReplay(b, 0.3e-3, 120*time.Millisecond) }

// The coarse mesh judged by a fine one over every trial; the table is logged.
func BenchmarkCoarseAgainstFine(b *testing.B) {
	if testing.Short() {
		b.Skip("four minutes")
	}
	for b.Loop() {
		for _, slip := range []bool{false, true} {
			var trials []layers.Trial
			for _, t := range layers.Trials() {
				if (t.SlipFactor > 0) == slip {
					trials = append(trials, t)
				}
			}
			got, force, err := layers.Judge(trials, layers.Mesh{}, layers.Mesh{Columns: 20, PerLayer: 6}, 0, 0.015)
			if err != nil {
				b.Fatal(err)
			}
			for _, a := range got {
				b.Logf("slip %v, %d squeezes, %s: sign right %.3f, ratio %.3f (%.3f to %.3f), within 25 %% %.3f",
					slip, a.Count, a.Quantity, a.SameSign, a.Median, a.Low, a.High, a.Within25)
			}
			b.Logf("slip %v: force ratio %.4f", slip, force)
		}
	}
}
