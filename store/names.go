package store

import (
	"cmp"
	"slices"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
)

// nameKey is a name's place in the order of a phone book, in which Öberg does not
// stand behind Zimmer. The database's own order depends on how it was made.
type nameKey struct{ family, given string }

func (k nameKey) compare(other nameKey) int {
	return cmp.Or(cmp.Compare(k.family, other.family), cmp.Compare(k.given, other.given))
}

// nameKeys returns a maker of keys, for one list: a key for each name costs less
// than comparing names pair by pair.
func nameKeys() func(family, given string) nameKey {
	order, buffer := collate.New(language.Und, collate.Loose), &collate.Buffer{}
	return func(family, given string) nameKey {
		defer buffer.Reset()
		return nameKey{string(order.KeyFromString(buffer, family)), string(order.KeyFromString(buffer, given))}
	}
}

// sortByName puts a list in that order.
func sortByName[T any](list []T, family, given func(T) string) {
	key := nameKeys()
	keyed := make([]keyedRow[T], len(list))
	for i, row := range list {
		keyed[i] = keyedRow[T]{key(family(row), given(row)), row}
	}
	slices.SortStableFunc(keyed, func(a, b keyedRow[T]) int { return a.key.compare(b.key) })
	for i, k := range keyed {
		list[i] = k.row
	}
}

type keyedRow[T any] struct {
	key nameKey
	row T
}
