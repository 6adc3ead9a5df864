package main

// nearest returns the name that takes the fewest edits to reach from given, or
// "" where none is within a third of the letters given (one at least). The
// first of equals wins.
func nearest(given string, names []string) string {
	const longest = 40 // letters; what is longer is no misspelling
	if len(given) > longest {
		return ""
	}
	best, least := "", 1+max(1, len(given)/3)
	for _, name := range names {
		if d := edits(given, name); d < least {
			best, least = name, d
		}
	}
	return best
}

// edits is the least number of letters to insert, drop, change or swap with
// their neighbour that turns a into b (optimal string alignment).
func edits(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range len(b) {
		d[0][j+1] = j + 1
	}
	for i := range len(a) {
		for j := range len(b) {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			d[i+1][j+1] = min(d[i][j]+change, d[i][j+1]+1, d[i+1][j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d[i+1][j+1] = min(d[i+1][j+1], d[i-1][j-1]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}
