package ease

import (
	"math"
	"testing"
)

func TestGrade(t *testing.T) {
	for _, tt := range []struct {
		source                      string
		words, sentences, syllables int
		want                        float64
	}{
		{"encyclopaedia's worked example, the Australian platypus (from memory)", 13, 1, 24, 11.3},
		{"the same, the cat that sat on the mat (from memory)", 6, 1, 6, -1.4},
	} {
		if got := Grade(tt.words, tt.sentences, tt.syllables); math.Abs(got-tt.want) > 0.06 {
			t.Errorf("%s: grade %.2f; want %.1f", tt.source, got, tt.want)
		}
	}
	for word, want := range map[string]int{ // by a dictionary's hyphens
		"exercise": 3, "minutes": 2, "practitioner": 4, "doctor": 2, "breath": 1, "logged": 1, "sentences": 3, "moderate": 3,
		"times": 1, "vigorous": 3, "able": 2, "week": 1, "you": 1, "easy": 2, "ended": 2, "passes": 2, "plan": 1, "12": 1,
	} {
		if got := syllables(word); got != want {
			t.Errorf("%q has %d syllables; want %d", word, got, want)
		}
	}
	if w, s, _ := Measure("You have done %d of your %d minutes. %d are left."); w != 11 || s != 2 {
		t.Errorf("%d words, %d sentences; want 11 and 2", w, s)
	}
}
