package unit

import "math"

// timeGrades are the steps times are rounded to, by length: one line a step of
// step/10^decimals seconds, for times that come out below the limit. Every
// limit is a multiple of the steps on both sides of it, so a time rounded up
// to a limit is written as the next line would. Common practice, no source:
// about one part in twenty, and never to the second beyond twenty.
var timeGrades = []grade{
	{step: 1, decimals: 1, below: 2},
	{step: 1, below: 20},
	{step: 5, below: 120},
	{step: 10, below: 300},
	{step: 30, below: 1800},
	{step: 60, below: 7200},
	{step: 300},
}

// roundTime rounds seconds to the step for their length. It returns tenths of
// seconds.
func roundTime(s float64, r rounding) (tenthsOfSecond int64, ok bool) {
	for _, g := range timeGrades {
		p := pow(g.decimals)
		n, ok := ticks(s*float64(p), float64(g.step), r)
		if !ok {
			return 0, false
		}
		n *= g.step * (10 / p)
		if g.below == 0 || abs(n) < 10*g.below {
			return n, true
		}
	}
	return 0, false
}

// Duration writes seconds as a shop counts time: "0.3 s", "4 s", "45 s",
// "1 min 30 s", "6 min 30 s", from ten minutes in minutes and halves
// ("12.5 min"), from two hours "2 h 10 min". The steps are 0.1 s below 2 s, 1 s
// below 20 s, 5 s below 2 min, 10 s below 5 min, half a minute below 30 min, a
// minute below 2 h, then five minutes.
func Duration(s float64) string {
	n, ok := roundTime(s, nearest)
	if !ok {
		return Unknown
	}
	return timeText(n)
}

// timeText writes tenths of seconds that are already rounded.
func timeText(n int64) string {
	const minute, hour = 600, 36000
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	switch {
	case n < minute:
		return sign + trimmed(n, 1) + " s"
	case n < 10*minute:
		return sign + two(n/minute, "min", n%minute/10, "s")
	case n < 2*hour:
		return sign + minutes(n) + " min"
	}
	return sign + two(n/hour, "h", n%hour/minute, "min")
}

// two writes a sum of two units, the second left out when it is zero.
func two(large int64, largeUnit string, small int64, smallUnit string) string {
	text := decimal(large, 0) + " " + largeUnit
	if small != 0 {
		text += " " + decimal(small, 0) + " " + smallUnit
	}
	return text
}

// minutes writes tenths of seconds that are whole half minutes: "12", "12.5".
func minutes(n int64) string { return trimmed(n/60, 1) }

// DurationRange writes a range of seconds: "9 to 14 min", "20 to 45 s",
// "45 s to 1 min 30 s", "1 h 50 min to 2 h 15 min". The low end is rounded down
// and the high end up, so the range written holds the range given. A range
// that, so rounded, begins at a minute or later and ends from two minutes to
// under two hours goes by half minutes, or by whole ones where it ends at ten
// minutes or later; others go by the steps of Duration. Ends in the wrong order are exchanged, ends that come out equal are
// written as one time, and a high end of +Inf reads "more than 9 min".
func DurationRange(lo, hi float64) string {
	if lo > hi {
		lo, hi = hi, lo
	}
	low, ok := roundTime(lo, down)
	if !ok {
		return Unknown
	}
	if math.IsInf(hi, 1) {
		return "more than " + timeText(low)
	}
	high, ok := roundTime(hi, up)
	if !ok {
		return Unknown
	}
	if l, h, ok := inMinutes(lo, hi); ok {
		if l == h {
			return timeText(l)
		}
		return minutes(l) + " to " + minutes(h) + " min"
	}
	switch {
	case low == high:
		return timeText(low)
	case low >= 0 && high < 600:
		return trimmed(low, 1) + " to " + trimmed(high, 1) + " s"
	}
	return timeText(low) + " to " + timeText(high)
}

// inMinutes rounds a range outward to half minutes, or to whole minutes where
// it ends at ten minutes or later, in tenths of seconds. It reports false where
// such a range would not begin at a minute or later, or not end between two
// minutes and two hours.
func inMinutes(lo, hi float64) (low, high int64, ok bool) {
	const minute, hour = 600, 36000
	for _, step := range []int64{minute / 2, minute} {
		l, _ := ticks(lo, float64(step)/10, down)
		h, _ := ticks(hi, float64(step)/10, up)
		low, high = l*step, h*step
		if high < 10*minute {
			break
		}
	}
	return low, high, low >= minute && high >= 2*minute && high < 2*hour
}
