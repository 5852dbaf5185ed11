package say

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// grade is the school grade of the United States whose readers a text is fit for.
//
// Source: Kincaid, Fishburne, Rogers and Chissom 1975, Naval Technical Training
// Command, Research Branch Report 8-75 (formula from memory).
func grade(words, sentences, syllables int) float64 {
	return 0.39*float64(words)/float64(sentences) + 11.8*float64(syllables)/float64(words) - 15.59
}

var (
	sentenceEnd = regexp.MustCompile(`[.?!:;]+(\s|$)`)
	vowels      = regexp.MustCompile(`[aeiouy]+`)
	silentEnd   = regexp.MustCompile(`([^aeiouyl]e|[^aeiouydt]ed|[^aeiouysxzc]es|[^aeiouy]les)$`)
	fill        = regexp.MustCompile(`%(\[\d+\])?(\.\d)?[a-z]|\{\w+\}`)
)

// syllables counts the groups of vowels of a word, without a silent ending, as all
// counting by machine does. A number is read as one.
func syllables(word string) int {
	word = strings.ToLower(word)
	n := len(vowels.FindAllString(word, -1))
	if silentEnd.MatchString(word) {
		n--
	}
	if strings.HasSuffix(word, "ia") || strings.Contains(word, "ia") || strings.Contains(word, "io") && !strings.Contains(word, "tion") {
		n++ // spoken apart
	}
	return max(n, 1)
}

// measure counts what the formula needs.
func measure(text string) (words, sentences, syllableCount int) {
	text = fill.ReplaceAllString(text, "30")
	for _, word := range strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' && r != ','
	}) {
		if word = strings.Trim(word, ","); word != "" {
			words++
			syllableCount += syllables(word)
		}
	}
	return words, max(1, len(sentenceEnd.FindAllString(text, -1))), syllableCount
}

func TestGrade(t *testing.T) {
	for _, tt := range []struct {
		source                      string
		words, sentences, syllables int
		want                        float64
	}{
		{"encyclopaedia's worked example, the Australian platypus (from memory)", 13, 1, 24, 11.3},
		{"the same, the cat that sat on the mat (from memory)", 6, 1, 6, -1.4},
	} {
		if got := grade(tt.words, tt.sentences, tt.syllables); math.Abs(got-tt.want) > 0.06 {
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
	if w, s, _ := measure("You have done %d of your %d minutes. %d are left."); w != 11 || s != 2 {
		t.Errorf("%d words, %d sentences; want 11 and 2", w, s)
	}
}

// hardest and middle are the grades that texts for clients stay below: what is
// asked of texts for patients, at most seven, and six for most.
const hardest, middle = 7, 6

// TestTextsAreEasy reads all texts of more than a few words one by one. In shorter
// ones a single long word decides; they are read with the pages.
func TestTextsAreEasy(t *testing.T) {
	var grades []float64
	for english, where := range keys(t) {
		words, sentences, syllables := measure(english)
		if words < 8 {
			continue
		}
		g := grade(words, sentences, syllables)
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
