package medicine

import (
	"strings"
	"unicode"
)

// Fold returns the text in lower case and without accents, for comparing.
// Letters that it does not know stay as they are.
func Fold(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	for _, r := range text {
		b.WriteString(foldRune(r))
	}
	return b.String()
}

// foldRune returns what a letter is compared as: nothing for a combining mark.
func foldRune(r rune) string {
	if r < 0x80 {
		return string(unicode.ToLower(r))
	}
	if unicode.Is(unicode.Mn, r) {
		return ""
	}
	r = unicode.ToLower(r)
	if plain, ok := plainLetters[r]; ok {
		return plain
	}
	return string(r)
}

// plainLetters is every accented letter of the Latin scripts that people type
// medicines and symptoms in, and the micro signs, which start a unit.
var plainLetters = func() map[rune]string {
	letters := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'µ': "u", 'μ': "u"}
	for plain, accented := range map[string]string{
		"a": "àáâãäåāăą", "c": "çćč", "d": "ďđ", "e": "èéêëēėęě", "g": "ğģ", "i": "ìíîïīįı",
		"k": "ķ", "l": "łľļ", "n": "ñńňņ", "o": "òóôõöøōő", "r": "řŕ", "s": "śšşș", "t": "ťţț",
		"u": "ùúûüūůűų", "y": "ýÿ", "z": "źžż",
	} {
		for _, r := range accented {
			letters[r] = plain
		}
	}
	return letters
}()
