package medicine

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// role is what a word does in a text about medicines.
type role uint8

const (
	nameWord  role = iota // may be a name or part of one
	filler                // dose, form, how often: never part of a name
	tablet                // a form that is swallowed
	eyeDrops              // a form that goes into the eye
	salt                  // the other half of a salt, no medicine by itself
	mineral               // the other half of a salt, and a medicine by itself
	connector             // joins the parts of a combination
)

// token is a word or a joining mark of a text.
type token struct {
	text       string // folded
	start, end int    // where it stands in the text as typed
	role       role
}

// items cuts a text at commas, semicolons, full stops and line ends, and each
// piece into words and joining marks. A comma or a point between digits is part
// of a number.
func items(text string) [][]token {
	var all [][]token
	var item []token
	start, end := -1, 0
	endWord := func() {
		if start >= 0 {
			if folded := Fold(text[start:end]); folded != "" {
				item = append(item, token{folded, start, end, roleOf(folded)})
			}
		}
		start = -1
	}
	endItem := func() {
		endWord()
		if len(item) > 0 {
			all = append(all, item)
		}
		item = nil
	}
	for i, r := range text {
		_, size := utf8.DecodeRuneInString(text[i:])
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) ||
			(r == '.' || r == ',') && betweenDigits(text, i):
			if start < 0 {
				start = i
			}
			end = i + size
		case strings.ContainsRune("/+&-–—", r):
			endWord()
			item = append(item, token{string(r), i, i + size, connector})
		case strings.ContainsRune(",;.|•·\n\r", r):
			endItem()
		default:
			endWord()
		}
	}
	endItem()
	return all
}

// betweenDigits reports whether the one-byte mark at i stands between digits.
func betweenDigits(text string, i int) bool {
	return i > 0 && i+1 < len(text) && isDigit(text[i-1]) && isDigit(text[i+1])
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// roleOf returns what a folded word does.
func roleOf(word string) role {
	if r, ok := roles[word]; ok {
		return r
	}
	if isDigit(word[0]) {
		unit := strings.TrimLeft(word, "0123456789.,")
		if r := roles[unit]; unit == "" || r == filler || r == tablet {
			return max(r, filler)
		}
	}
	return nameWord
}

// roles is the words that are no names, in English and in Spanish.
var roles = func() map[string]role {
	words := map[string]role{}
	for r, list := range map[role]string{
		filler: `mg mcg ug g gram grams ml l iu ui u unit units mmol meq percent
			once twice daily day every per each at in the a an of for to by mouth morning evening night noon
			bedtime am pm mane nocte od bd bid tds tid qd qds qid qhs hs prn needed as required weekly week hour
			hours h hr hrs before after meals food breakfast lunch dinner x times time one two three four
			solution suspension syrup powder sachet sachets film coated chewable dispersible low high dose strength
			mr sr xl xr er cr la pr ir xt cd retard slow modified sustained prolonged extended immediate controlled
			long acting release gastro resistant enteric ec
			inhaler inhalation inhaled puff puffs nebuliser nebulizer spray patch patches injection injections inj pen
			vial cartridge im iv sc subcutaneous transdermal sublingual under tongue nasal gel cream ointment
			i my take takes taking on also
			diario diaria dia cada vez veces noche manana semana horas de del la el al por para en tomo una uno`,
		tablet:    `tablet tablets tab tabs capsule capsules cap caps pill pills oral po comprimido comprimidos tableta tabletas pastilla pastillas capsula capsulas`,
		eyeDrops:  `eye eyes drop drops eyedrop eyedrops ophthalmic ocular gtt gtts colirio gota gotas ojo ojos oftalmico oftalmica`,
		salt:      `tartrate bitartrate succinate hydrochloride hcl hydrobromide fumarate hemifumarate maleate besilate besylate mesilate mesylate medoxomil cilexetil etexilate bromide sulfate sulphate phosphate acetate citrate arginine erbumine tosilate tosylate xinafoate hydrate monohydrate dihydrate trihydrate hemihydrate anhydrous tartrato succinato clorhidrato fumarato maleato besilato mesilato`,
		mineral:   `sodium potassium calcium magnesium sodico sodica potasico potasica calcico calcica`,
		connector: `and with plus y con mas`,
	} {
		for _, word := range strings.Fields(list) {
			words[word] = r
		}
	}
	return words
}()
