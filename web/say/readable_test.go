package say

import (
	"slices"
	"testing"

	"brae/web/say/ease"
)

// hardest and middle are the grades that texts for clients stay below: what is
// asked of texts for patients, at most seven, and six for most.
const hardest, middle = 7, 6

// TestTextsAreEasy reads all texts of more than a few words one by one. In shorter
// ones a single long word decides; they are read with the pages.
func TestTextsAreEasy(t *testing.T) {
	var grades []float64
	for english, where := range keys(t) {
		words, sentences, syllables := ease.Measure(english)
		if words < 8 {
			continue
		}
		g := ease.Grade(words, sentences, syllables)
		grades = append(grades, g)
		if g > hardest {
			t.Errorf("grade %.1f: %q (%s)", g, english, where)
		}
		if words > 25*sentences {
			t.Errorf("%d words in %d sentences: %q (%s)", words, sentences, english, where)
		}
	}
	slices.Sort(grades)
	if m := grades[len(grades)/2]; m > middle {
		t.Errorf("the middle grade of %d texts is %.1f; want %d at most", len(grades), m, middle)
	} else {
		t.Logf("%d texts, middle grade %.1f, hardest %.1f", len(grades), m, grades[len(grades)-1])
	}
}
