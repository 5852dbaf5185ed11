package domain

import "fmt"

// Sentence is a text with numbers in it, kept apart from them: who tells it in
// another language puts the same numbers into another text.
type Sentence struct {
	Format string // with the verbs of package fmt
	Args   []any
}

// String is the sentence in English.
func (s Sentence) String() string { return fmt.Sprintf(s.Format, s.Args...) }
