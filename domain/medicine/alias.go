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
// used, by the alias as typed: one that is a generic name already, and one
// whose contents are not read without a doubt.
//
// Practice rule: practice.
func (a Aliases) Check() error {
	var p domain.Problems
	keys := map[string]string{}
	for _, alias := range slices.Sorted(maps.Keys(a)) {
		key := aliasKey(alias)
		if other, ok := keys[key]; ok {
			p.Add(alias, "This is read like the alias "+other+".")
		}
		keys[key] = alias
		if key == "" {
			p.Add(alias, "This has no letters that could be a name.")
		}
		if i, ok := index[key]; ok {
			p.Add(alias, "This is a generic name already: "+names[i].Name+".")
		}
		if r := Match(a[alias]); len(r.Matches) == 0 || !r.Settled() {
			p.Add(alias, "Write what it contains as generic names that are in the list.")
		}
	}
	return p.Err()
}

// aliasKey is an alias as it is compared, and empty if it names nothing.
func aliasKey(alias string) string { return strings.Join(nameWords(alias), " ") }

// Match is [Match] for a practice with these aliases. Aliases that Check would
// refuse find nothing.
func (a Aliases) Match(text string) Result {
	keys := make(map[string]string, len(a))
	for _, alias := range slices.Backward(slices.Sorted(maps.Keys(a))) { // the first of equal ones counts
		if key := aliasKey(alias); key != "" && Match(a[alias]).Settled() {
			keys[key] = a[alias]
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
