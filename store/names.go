package store

import (
	"bytes"
	"slices"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
)

// sortByName puts a list in the order of a phone book, in which Öberg does not
// stand behind Zimmer. The database's own order depends on how it was made.
func sortByName[T any](list []T, family, given func(T) string) {
	order, buffer := collate.New(language.Und, collate.Loose), &collate.Buffer{}
	keyed := make([]keyedRow[T], len(list))
	for i, row := range list { // a key for each name costs less than comparing names pair by pair
		keyed[i] = keyedRow[T]{order.KeyFromString(buffer, family(row)), order.KeyFromString(buffer, given(row)), row}
	}
	slices.SortStableFunc(keyed, func(a, b keyedRow[T]) int {
		if c := bytes.Compare(a.family, b.family); c != 0 {
			return c
		}
		return bytes.Compare(a.given, b.given)
	})
	for i, k := range keyed {
		list[i] = k.row
	}
}

type keyedRow[T any] struct {
	family, given []byte
	row           T
}
