package medicine_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"brae/domain/medicine"
	"brae/domain/source"

	"pgregory.net/rapid"
)

// spellings is every way to write every name, by the name.
func spellings() map[string]medicine.Name {
	all := map[string]medicine.Name{}
	for _, n := range medicine.Names() {
		for _, written := range append([]string{n.Name}, n.Also...) {
			all[strings.ToLower(written)] = n
		}
	}
	return all
}

// edits is the fewest letters added, left out, exchanged or swapped with a
// neighbour between two words, by the textbook table.
func edits(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range b {
		d[0][j+1] = j + 1
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}

// No slip of one name is another name.
func TestNamesAreApart(t *testing.T) {
	all := spellings()
	for a, n := range all {
		for b, m := range all {
			if n.Name != m.Name && edits(a, b) < 2 {
				t.Errorf("%q and %q are one slip apart", a, b)
			}
		}
	}
}

// A name is itself, however it is dressed up, and never another.
func TestNameIsItself(t *testing.T) {
	all := spellings()
	written := make([]string, 0, len(all))
	for w := range all {
		written = append(written, w)
	}
	slices.Sort(written)
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(written).Draw(t, "name")
		dressed := rapid.SampledFrom([]string{"", "take ", "5 mg of "}).Draw(t, "before") + w +
			rapid.SampledFrom([]string{"", " 50 mg", " tartrate", " sodium 5mg tablets", " hydrochloride XL", " 2,5 mg twice daily"}).Draw(t, "after")
		if rapid.Bool().Draw(t, "upper") {
			dressed = strings.ToUpper(dressed)
		}
		r := medicine.Match(dressed)
		if len(r.Matches) != 1 || len(r.Unknown) != 0 || !r.Matches[0].Exact() || r.Matches[0].Name != all[w].Name {
			t.Fatalf("Match(%q) = %+v; want %s and nothing else", dressed, r, all[w].Name)
		}
	})
}

// A slip is never exact, and the name it slipped from is among the suggestions
// if the word is long enough.
func TestSlipIsOnlySuggested(t *testing.T) {
	all := spellings()
	var written []string
	for w := range all {
		if len(w) >= 6 && !strings.ContainsAny(w, " -()") {
			written = append(written, w)
		}
	}
	slices.Sort(written)
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(written).Draw(t, "name")
		i := rapid.IntRange(0, len(w)-1).Draw(t, "place")
		letter := string(rune('a' + rapid.IntRange(0, 25).Draw(t, "letter")))
		slip := w
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			slip = w[:i] + w[i+1:]
		case 1:
			slip = w[:i] + letter + w[i:]
		case 2:
			slip = w[:i] + letter + w[i+1:]
		case 3:
			if i+1 < len(w) {
				slip = w[:i] + w[i+1:i+2] + w[i:i+1] + w[i+2:]
			}
		}
		r := medicine.Match(slip)
		if n, ok := all[slip]; ok { // another spelling of the same
			if n.Name != all[w].Name {
				t.Fatalf("%q slipped into %q", w, n.Name)
			}
			return
		}
		if len(r.Exact()) != 0 {
			t.Fatalf("Match(%q) = %+v; a slip of %q is exact", slip, r, w)
		}
		if !slices.ContainsFunc(r.Matches, func(f medicine.Found) bool { return f.Name == all[w].Name }) {
			t.Fatalf("Match(%q) = %+v; want %s suggested", slip, r, all[w].Name)
		}
		if r.Settled() {
			t.Fatalf("Match(%q) is settled", slip)
		}
	})
}

// One more medicine never leaves more valid, in whatever order.
func TestMoreMedicinesNeverLoosen(t *testing.T) {
	names := medicine.Names()
	rank := map[medicine.ZoneCode]int{"Z3": 4, "Z1": 3, "Z2": 2, "Z4": 1, "Z0": 0}
	rapid.Check(t, func(t *rapid.T) {
		pick := rapid.SliceOfN(rapid.IntRange(0, len(names)-1), 1, 6).Draw(t, "medicines")
		var typed []string
		before := 0
		for _, i := range pick {
			typed = append(typed, names[i].Name)
			z := medicine.Match(strings.Join(typed, ", ")).Zones()
			if rank[z.Strictest()] < before {
				t.Fatalf("%q leaves %s", typed, z)
			}
			before = rank[z.Strictest()]
		}
		one := medicine.Match(strings.Join(typed, "; ")).Zones()
		slices.Reverse(typed)
		if other := medicine.Match(strings.Join(typed, "\n")).Zones(); one != other {
			t.Fatalf("%q: %s one way, %s the other", typed, one, other)
		}
	})
}

func FuzzMatch(f *testing.F) {
	for _, seed := range []string{
		"Metoprolol succinate 50 mg", "hydroxyzine", "hydralazine", "timolol/dorzolamide eye drops", "xyzzolol 10",
		"isosorbide-5-mononitrate", "me\u0301toprolol", "\xff\xfe", "1,5", "-", "a-", "potassium", "µg", "İstanbul",
		"sacubitril + valsartan", "x\u0301", "\u0301", "5mgmetoprolol",
	} {
		f.Add(seed)
	}
	all := spellings()
	f.Fuzz(func(t *testing.T, text string) {
		r := medicine.Match(text)
		folded := medicine.Fold(text)
		for _, m := range r.Matches {
			if !strings.Contains(text, m.Typed) {
				t.Errorf("Match(%q): %q does not stand there", text, m.Typed)
			}
			if _, ok := m.Class.Effect(); !ok {
				t.Errorf("Match(%q): class %q does not exist", text, m.Class)
			}
			if m.Exact() && !spelled(folded, m.Name, all) {
				t.Errorf("Match(%q) = %s exactly, but no spelling of it stands there", text, m.Name)
			}
		}
		for _, u := range r.Unknown {
			if u == "" || !strings.Contains(text, u) {
				t.Errorf("Match(%q): unknown %q does not stand there", text, u)
			}
		}
		if again := medicine.Match(text); read(again) != read(r) {
			t.Errorf("Match(%q) = %s, then %s", text, read(r), read(again))
		}
		if utf8.ValidString(text) && medicine.Fold(folded) != folded {
			t.Errorf("Fold(Fold(%q)) = %q; want %q", text, medicine.Fold(folded), folded)
		}
	})
}

// spelled reports whether every word of some spelling of the name stands in the
// folded text.
func spelled(folded, name string, all map[string]medicine.Name) bool {
	for written, n := range all {
		if n.Name != name {
			continue
		}
		words := strings.FieldsFunc(written, func(r rune) bool { return r < 'a' || r > 'z' })
		if !slices.ContainsFunc(words, func(w string) bool {
			return !slices.Contains([]string{"and", "sodium", "bromide", "medoxomil", "etexilate"}, w) && !strings.Contains(folded, w)
		}) {
			return true
		}
	}
	return false
}

func TestFold(t *testing.T) {
	for _, tt := range []struct{ source, text, want string }{
		{"Unicode: letters with marks", "ÀÉÎÕÜ ñç ø ł ß œ", "aeiou nc o l ss oe"},
		{"Unicode: combining marks", "e\u0301", "e"},
		{"Unicode: micro signs", "µg μg", "ug ug"},
		{"Unicode: other scripts stay", "МЕТО", "мето"},
	} {
		if got := medicine.Fold(tt.text); got != tt.want {
			t.Errorf("Fold(%q) = %q; want %q", tt.text, got, tt.want)
		}
	}
}

func TestRulesCite(t *testing.T) {
	for _, r := range medicine.Rules {
		if len(r.Cites) == 0 || r.Says == "" {
			t.Errorf("rule %s: no citation or no sentence", r.ID)
		}
		for _, k := range r.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("rule %s cites %s, which does not exist", r.ID, k)
			}
		}
	}
	if n := len(medicine.Names()); n != 211 {
		t.Errorf("%d names; the rule says 211", n)
	}
}

func BenchmarkMatch(b *testing.B) {
	for _, bb := range []struct{ name, text string }{
		{"one", "metoprolol succinate 50 mg"},
		{"five", "metoprolol 50 mg, amlodipine 5 mg, aspirin 75 mg, atorvastatin 20 mg, ramipril 5 mg"},
		{"unknown", "xyzzolol 10 mg"},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				medicine.Match(bb.text)
			}
		})
	}
}
