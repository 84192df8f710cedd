package partfile

import (
	"slices"
	"strings"
)

// nearest returns the known word that the given one was probably meant to be, or
// "" if none is near: at most a third of its letters wrong, or one the start of
// the other.
func nearest(word string, known []string) string {
	word = plain(word)
	best, least := "", len(word)/3+1
	for _, k := range known {
		d := distance(word, plain(k))
		if d < least || d == least && best == "" {
			best, least = k, d
		}
	}
	if best != "" || len(word) < 3 {
		return best
	}
	for _, k := range known {
		if p := plain(k); strings.HasPrefix(p, word) || len(p) >= 3 && strings.HasPrefix(word, p) {
			return k
		}
	}
	return ""
}

// plain drops what makers mix up: case, and blank, dash and underscore.
func plain(word string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '_' {
			return -1
		}
		return r
	}, strings.ToLower(word))
}

// distance counts the single-byte insertions, deletions, changes and swaps of
// neighbours that turn a into b (restricted edit distance).
func distance(a, b string) int {
	const longest = 64 // no key is longer; bounds the work for hostile input
	if len(a) > longest || len(b) > longest {
		return longest
	}
	before, last, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		next[0] = i + 1
		for j := range len(b) {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			next[j+1] = min(change, last[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
		before, last, next = last, next, before
	}
	return last[len(b)]
}

// didYouMean is the tail of a rule that refuses a word: the likeliest word, and
// the words there are.
func didYouMean(word string, known []string) string {
	list := slices.Clone(known)
	slices.Sort(list)
	quoted := make([]string, len(list))
	for i, k := range list {
		quoted[i] = `"` + k + `"`
	}
	among := "one of " + strings.Join(quoted, ", ")
	if len(quoted) == 1 {
		among = quoted[0]
	}
	if k := nearest(word, known); k != "" {
		return `did you mean "` + k + `"? (` + among + ")"
	}
	return "write " + among
}
