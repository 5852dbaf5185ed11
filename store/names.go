package store

import (
	"slices"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
)

// sortByName puts a list in the order of a phone book, in which Öberg does not
// stand behind Zimmer. The database's own order depends on how it was made.
func sortByName[T any](list []T, family, given func(T) string) {
	order := collate.New(language.Und, collate.Loose)
	slices.SortStableFunc(list, func(a, b T) int {
		if c := order.CompareString(family(a), family(b)); c != 0 {
			return c
		}
		return order.CompareString(given(a), given(b))
	})
}
