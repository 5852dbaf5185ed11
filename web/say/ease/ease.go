// Package ease measures how easy a text is to read. Only tests use it.
package ease

import (
	"regexp"
	"strings"
	"unicode"
)

// Grade is the school grade of the United States whose readers a text is fit for.
//
// Source: Kincaid, Fishburne, Rogers and Chissom 1975, Naval Technical Training
// Command, Research Branch Report 8-75 (formula from memory).
func Grade(words, sentences, syllables int) float64 {
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

// Measure counts what the formula needs. Where a text has a number filled in, it
// is read as one.
func Measure(text string) (words, sentences, syllableCount int) {
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
