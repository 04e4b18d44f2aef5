// Package spelling finds the word that somebody meant.
package spelling

import (
	"fmt"
	"math"
	"strings"

	"github.com/agnivade/levenshtein"
)

// longest is the longest word compared, bytes: the work grows with the product of the lengths.
const longest = 80

// Distance is the number of letters to insert, drop or replace to make b of a (V. I. Levenshtein, Soviet Physics Doklady 10 (1966) 707). Words
// over 80 bytes count as strangers, further apart than any others.
func Distance(a, b string) int {
	if len(a) > longest || len(b) > longest {
		return math.MaxInt
	}
	return levenshtein.ComputeDistance(a, b)
}

// Nearest is the known word that differs least from the given one, capitals apart; "" when all differ by more than a third of its letters and one.
func Nearest(given string, known []string) (best string) {
	least := min(len(given)/3+2, len(given))
	for _, k := range known {
		if n := Distance(strings.ToLower(given), strings.ToLower(k)); n < least {
			best, least = k, n
		}
	}
	return best
}

// Meant is a hint, and before it the question whether the nearest of the known words was meant, where there is one.
func Meant(given string, known []string, hint string) string {
	if best := Nearest(given, known); best != "" {
		return fmt.Sprintf("did you mean %q? %s", best, hint)
	}
	return hint
}
