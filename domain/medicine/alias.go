package medicine

import (
	"maps"
	"slices"
	"strings"

	"brae/domain"
)

// Aliases is the names that a practice adds, such as brand names: what each
// contains, in words that [Match] reads without a doubt ("bisoprolol and
// hydrochlorothiazide", "timolol eye drops").
type Aliases map[string]string

// Check returns [domain.Problems] with a sentence for each alias that cannot be
// used, by the alias as typed: one that names no word, one that is read like
// another, one whose contents are not read without a doubt, and one that is or
// has in it a generic name which is not among its contents.
//
// Practice rule: practice.
func (a Aliases) Check() error {
	var p domain.Problems
	seen := map[string]string{}
	for _, alias := range slices.Sorted(maps.Keys(a)) {
		key := aliasKey(alias)
		if other, ok := seen[key]; ok {
			p.Add(alias, "This is read like the alias "+other+".")
		}
		seen[key] = alias
		if problem := checkAlias(alias, a[alias]); problem != "" {
			p.Add(alias, problem)
		}
	}
	return p.Err()
}

// checkAlias says what is wrong with an alias by itself.
func checkAlias(alias, contents string) string {
	if len(nameWords(alias)) == 0 {
		return "This has no word that could be a name."
	}
	r := Match(contents)
	if len(r.Matches) == 0 || !r.Settled() {
		return "Write what it contains as generic names that are in the list."
	}
	for _, f := range Match(alias).Exact() {
		if !slices.ContainsFunc(r.Matches, func(g Found) bool { return f.Name == g.Name }) {
			return "This has a generic name in it that it does not contain: " + f.Name + "."
		}
	}
	return ""
}

// aliasKey is an alias as it is compared.
func aliasKey(alias string) string {
	var keys []string
	for _, item := range items(alias) {
		keys = append(keys, keyOf(item, spokenOf(item)))
	}
	return strings.Join(keys, " ")
}

// Match is [Match] for a practice with these aliases. Aliases that Check would
// refuse find nothing; of those that are read alike, the first by spelling
// counts. No alias turns one generic name into another.
//
// Practice rule: practice.
func (a Aliases) Match(text string) Result {
	keys := make(map[string]string, len(a))
	for _, alias := range slices.Backward(slices.Sorted(maps.Keys(a))) {
		if checkAlias(alias, a[alias]) == "" {
			keys[aliasKey(alias)] = a[alias]
		}
	}
	var out Result
	for _, item := range items(text) {
		r := reader{text: text, item: item, aliases: keys}
		for i, t := range item {
			if t.role == nameWord {
				r.words = append(r.words, i)
			}
		}
		part := r.read()
		for _, f := range part.Matches {
			if !slices.Contains(out.Matches, f) {
				out.Matches = append(out.Matches, f)
			}
		}
		for _, u := range part.Unknown {
			if !slices.Contains(out.Unknown, u) {
				out.Unknown = append(out.Unknown, u)
			}
		}
	}
	return out
}
