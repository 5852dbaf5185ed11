package medicine

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// shortestSlip is the fewest letters of a word that may be a slip: in shorter
// ones, one edit makes another word too easily. In letters.
//
// Practice rule: practice.
const shortestSlip = 5

// shortestPart is the fewest letters of a word that is taken for part of a
// longer name ("isosorbide"). In letters; it leaves out "acid" and "human".
//
// Practice rule: practice.
const shortestPart = 6

// spelling is one way to write a name, as it is compared.
type spelling struct {
	key  string // folded, without salts and joining words
	name int    // in names
}

// spellings is every way to write every name; index finds one; mostWords is how
// many words the longest has.
var spellings, index, mostWords = spell()

func spell() ([]spelling, map[string]int, int) {
	var all []spelling
	index := map[string]int{}
	most := 0
	for i, n := range names {
		for _, written := range append([]string{n.Name}, n.Also...) {
			words := nameWords(written)
			key := strings.Join(words, " ")
			if _, ok := index[key]; ok {
				continue
			}
			index[key] = i
			all = append(all, spelling{key, i})
			most = max(most, len(words))
		}
	}
	return all, index, most
}

// nameWords is the words of a text that can be part of a name.
func nameWords(text string) []string {
	var words []string
	for _, item := range items(text) {
		for _, t := range item {
			if t.role == nameWord {
				words = append(words, t.text)
			}
		}
	}
	return words
}

// reader reads one item of a text.
type reader struct {
	text    string
	item    []token
	words   []int // the words that may be names, as places in item
	used    []bool
	aliases map[string]string
}

// read finds the medicines of the item: names first, the longest before the
// shorter, then what looks like a slip of one, then the rest.
func (r *reader) read() Result {
	found := map[int][]Found{} // by the first word
	r.used = make([]bool, len(r.words))
	r.findAliases(found)
	r.cover(mostWords, func(from, to int) bool {
		found[from] = r.exact(from, to)
		return found[from] != nil
	})
	r.cover(mostWords+1, func(from, to int) bool {
		found[from] = r.slips(from, to)
		return found[from] != nil
	})
	r.cover(1, func(from, to int) bool {
		found[from] = r.parts(from, to)
		return found[from] != nil
	})
	var out Result
	for i := range r.words {
		out.Matches = append(out.Matches, found[i]...)
	}
	out.Unknown = r.rest()
	return out
}

// cover tries each run of unused words, the longest first, and uses up those
// that try accepts.
func (r *reader) cover(most int, try func(from, to int) bool) {
	for n := min(most, len(r.words)); n >= 1; n-- {
		for from := 0; from+n <= len(r.words); from++ {
			run := r.used[from : from+n]
			if slices.Contains(run, true) || !try(from, from+n) {
				continue
			}
			for i := range run {
				run[i] = true
			}
		}
	}
}

// findAliases finds the names that a practice added, the longest first. They
// may have words in them that are otherwise skipped ("... plus", "... retard").
func (r *reader) findAliases(found map[int][]Found) {
	longest := 0
	for key := range r.aliases {
		longest = max(longest, strings.Count(key, " ")+1)
	}
	spoken := spokenOf(r.item)
	for n := min(longest, len(spoken)); n >= 1; n-- {
		for from := 0; from+n <= len(spoken); from++ {
			run := spoken[from : from+n]
			contents, ok := r.aliases[keyOf(r.item, run)]
			words := r.within(run[0], run[n-1])
			if !ok || len(words) == 0 || slices.ContainsFunc(words, func(w int) bool { return r.used[w] }) {
				continue
			}
			medicines := Match(contents).Exact()
			for i := range medicines {
				medicines[i].Typed = r.text[r.item[run[0]].start:r.item[run[n-1]].end]
			}
			found[words[0]] = medicines
			for _, w := range words {
				r.used[w] = true
			}
		}
	}
}

// within is the words that stand from one token to another.
func (r *reader) within(first, last int) []int {
	var words []int
	for i, w := range r.words {
		if first <= w && w <= last {
			words = append(words, i)
		}
	}
	return words
}

// spokenOf is the tokens of an item that are words and not marks.
func spokenOf(item []token) []int {
	var spoken []int
	for i, t := range item {
		if letter, _ := utf8.DecodeRuneInString(t.text); t.role != connector || unicode.IsLetter(letter) {
			spoken = append(spoken, i)
		}
	}
	return spoken
}

// keyOf is some tokens of an item as aliases are compared.
func keyOf(item []token, places []int) string {
	texts := make([]string, len(places))
	for i, place := range places {
		texts[i] = item[place].text
	}
	return strings.Join(texts, " ")
}

// key is the run of words as it is compared.
func (r *reader) key(from, to int) string {
	var b strings.Builder
	for i, w := range r.words[from:to] {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(r.item[w].text)
	}
	return b.String()
}

// typed is the run of words as it was typed.
func (r *reader) typed(from, to int) string {
	return r.text[r.item[r.words[from]].start:r.item[r.words[to-1]].end]
}

// exact returns the medicine that the words name.
func (r *reader) exact(from, to int) []Found {
	if i, ok := index[r.key(from, to)]; ok {
		return []Found{r.found(from, to, i, Exact)}
	}
	return nil
}

// slips returns every name that is one edit away from the words.
func (r *reader) slips(from, to int) []Found {
	key := r.key(from, to)
	if len(key) < shortestSlip {
		return nil
	}
	var found []Found
	for _, s := range spellings {
		if len(s.key) >= shortestSlip && oneEdit(key, s.key) {
			found = r.suggest(found, from, to, s.name)
		}
	}
	return found
}

// parts returns every longer name that the word is part of.
func (r *reader) parts(from, to int) []Found {
	key := r.key(from, to)
	if len(key) < shortestPart {
		return nil
	}
	var found []Found
	for _, s := range spellings {
		if slices.Contains(strings.Fields(s.key), key) {
			found = r.suggest(found, from, to, s.name)
		}
	}
	return found
}

// suggest adds a suggestion, once for each name.
func (r *reader) suggest(found []Found, from, to, name int) []Found {
	if slices.ContainsFunc(found, func(f Found) bool { return f.Name == names[name].Name }) {
		return found
	}
	return append(found, r.found(from, to, name, Suggested))
}

// found is the medicine of that name, as the words around it make it.
func (r *reader) found(from, to, name int, c Certainty) Found {
	n := names[name]
	f := Found{Typed: r.typed(from, to), Name: n.Name, Class: n.Class, Certainty: c}
	if n.Eye {
		drops, swallowed := r.route(r.words[to-1])
		f.AskRoute = drops == swallowed
		if drops && !swallowed {
			f.Class = BetaEyeDrops
		}
	}
	effect, _ := f.Class.Effect()
	f.Zones = effect.Zones | n.Zones
	return f
}

// route reports whether the part of the combination that a word stands in is
// said to go into the eye, or to be swallowed. Of parts joined by a stroke or a
// hyphen, what follows counts for the parts before too ("a/b eye drops"); of
// others it does not ("a tablets and b eye drops").
func (r *reader) route(word int) (drops, swallowed bool) {
	first, last := word, word
	for first > 0 && r.item[first-1].role != connector {
		first--
	}
	for last+1 < len(r.item) && r.item[last+1].role != connector {
		last++
	}
	for _, t := range r.item[first : last+1] {
		drops = drops || t.role == eyeDrops
		swallowed = swallowed || t.role == tablet
	}
	if next := last + 2; !drops && !swallowed && next < len(r.item) &&
		(r.item[last+1].text == "/" || r.item[last+1].text == "-") {
		return r.route(next)
	}
	return drops, swallowed
}

// rest returns what is left of the item as typed: runs of words that fit no
// name, with the other half of a salt that stands beside them. Minerals count
// as such only beside a name, since they are medicines by themselves. An item
// that names nothing at all is left whole, unless it is only a dose.
func (r *reader) rest() []string {
	known := map[int]bool{} // places in item that a match covers
	for i, w := range r.words {
		known[w] = r.used[i]
	}
	named := slices.Contains(r.used, true)
	var rest []string
	start := -1
	flush := func(end int) {
		if start >= 0 {
			rest = append(rest, r.text[r.item[start].start:r.item[end].end])
		}
		start = -1
	}
	last := 0
	after := false // a name, with nothing but halves of salts since
	for i, t := range r.item {
		beside := after || i+1 < len(r.item) && known[i+1]
		after = known[i] || after && (t.role == salt || t.role == mineral)
		switch {
		case t.role == nameWord && !known[i],
			t.role == mineral && !beside,
			t.role == salt && (start >= 0 || !named),
			t.role == eyeDrops && !named && (start >= 0 || len(r.words) == 0):
			if start < 0 {
				start = i
			}
			last = i
		case t.text == "-" && start >= 0 && i+1 < len(r.item) && r.item[i+1].role == nameWord && !known[i+1]:
			// a hyphen inside a name that is not known
		default:
			flush(last)
		}
	}
	flush(last)
	return rest
}
