package jobfile

import (
	"strings"
	"unicode/utf8"
)

// maxName is the longest name compared; what is longer is no misspelling.
const maxName = 40

// nearest returns the name in names that takes the fewest edits to reach
// from given, letter case aside, or "" where none is within a third of its
// letters (one edit at least). The first of equals wins.
func nearest(given string, names []string) string {
	if utf8.RuneCountInString(given) > maxName {
		return ""
	}
	given = strings.ToLower(given)
	best, least := "", 1+max(1, utf8.RuneCountInString(given)/3)
	for _, name := range names {
		if d := edits(given, strings.ToLower(name)); d < least {
			best, least = name, d
		}
	}
	return best
}

// edits is the least number of letters to insert, drop, change or swap with
// a neighbour to turn a into b (optimal string alignment).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		now := make([]int, len(t)+1)
		now[0] = i
		for j := 1; j <= len(t); j++ {
			change := last[j-1]
			if s[i-1] != t[j-1] {
				change++
			}
			now[j] = min(change, last[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last = last, now
	}
	return last[len(t)]
}

// didYouMean is the hint that offers name; empty for an empty name.
func didYouMean(name string) string {
	if name == "" {
		return ""
	}
	return `did you mean "` + name + `"?`
}
