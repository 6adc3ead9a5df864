package unit

// Length writes metres to 0.1 mm ("12.5 mm"), or to the nearest 1/32 in as a
// fraction ("1-1/2 in", "3/32 in"). Sizes too small for that, under 0.1 mm or
// 1/32 in, are written as FineLength does, so that they do not read as nothing.
func (s System) Length(m float64) string {
	fine, ok := ticks(m, s.fineStep(), nearest)
	switch {
	case !ok:
		return Unknown
	case s == Inch && fine == 0:
		return "0 in"
	case s == Inch && abs(fine) < 31: // 1/32 in is 31 thousandths
		return s.FineLength(m)
	case s == Inch:
		return fraction32(m)
	case fine != 0 && abs(fine) < 10:
		return s.FineLength(m)
	}
	return tenths(m)
}

// FineLength writes metres to 0.01 mm or 0.001 in, as a decimal: for drift,
// core lines and finish.
func (s System) FineLength(m float64) string {
	return write(m, s.pick(fineMetric, fineInch))
}

// LongLength writes the length of a bar: to whole millimetres, or to 1/8 in.
// Below 10 mm or 1/2 in it writes as Length does.
func (s System) LongLength(m float64) string {
	if s == Inch {
		n, ok := ticks(m, InchMetres/32, nearest)
		if !ok || abs(n) < 16 {
			return s.Length(m)
		}
		n, _ = ticks(m, InchMetres/8, nearest)
		return vulgar(n, 8) + " in"
	}
	n, ok := ticks(m, 1e-4, nearest)
	if !ok || abs(n) < 100 {
		return s.Length(m)
	}
	n, _ = ticks(m, 1e-3, nearest)
	return decimal(n, 0) + " mm"
}

// BothLength writes metres as Length does in both systems, the user's own
// first: "13.0 mm (1/2 in)". It is for hot stop heights, which are read next
// to stop blocks and rules of either kind. Each is rounded from m by itself.
func (s System) BothLength(m float64) string {
	other := Inch
	if s == Inch {
		other = Metric
	}
	own := s.Length(m)
	if own == Unknown {
		return Unknown
	}
	return own + " (" + other.Length(m) + ")"
}

// fineStep is the step of FineLength, m.
func (s System) fineStep() float64 {
	if s == Inch {
		return InchMetres / 1000
	}
	return 1e-5
}

func fraction32(m float64) string {
	n, ok := ticks(m, InchMetres/32, nearest)
	if !ok {
		return Unknown
	}
	return vulgar(n, 32) + " in"
}

func tenths(m float64) string {
	return write(m, []grade{{unit: "mm", size: 1e-3, step: 1, decimals: 1}})
}
