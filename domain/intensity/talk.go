package intensity

import "fmt"

// Talk is what a client can do with their voice at a steady pace. The empty Talk
// is: not asked.
type Talk string

// The five levels, from the easiest.
//
// Source: cdc_talk, cdc_talk_2009, foster2008.
const (
	TalkSing      Talk = "sing"      // can sing
	TalkSentences Talk = "sentences" // whole sentences, no singing
	TalkShort     Talk = "short"     // speaks, but not comfortably; sentences break
	TalkFewWords  Talk = "few_words" // a few words between breaths
	TalkNone      Talk = "none"      // cannot speak
)

// talkLevel is one row of the table of levels.
type talkLevel struct {
	talk    Talk
	class   Class
	stage   string // in the formal talk test
	example string // what the client would say of it
}

var talkLevels = [...]talkLevel{
	{TalkSing, Light, "positive", "I could sing a song while I moved."},
	{TalkSentences, Moderate, "last positive", "I could chat in whole sentences, but I could not sing."},
	{TalkShort, Vigorous, "equivocal", "I could talk, but I had to stop for air in the middle of a sentence."},
	{TalkFewWords, Vigorous, "negative", "I could only get out a few words between breaths."},
	{TalkNone, NearMaximal, "negative", "I had no breath left to talk at all."},
}

// Talks returns the five levels, from the easiest.
func Talks() []Talk {
	return []Talk{TalkSing, TalkSentences, TalkShort, TalkFewWords, TalkNone}
}

// ParseTalk reads the code of a level.
func ParseTalk(code string) (Talk, error) {
	if _, ok := Talk(code).level(); !ok {
		return "", fmt.Errorf("talk test %q: not one of sing, sentences, short, few_words, none", code)
	}
	return Talk(code), nil
}

func (t Talk) level() (talkLevel, bool) {
	for i := range talkLevels {
		if talkLevels[i].talk == t {
			return talkLevels[i], true
		}
	}
	return talkLevel{}, false
}

// Valid reports whether t is one of the five levels.
func (t Talk) Valid() bool { _, ok := t.level(); return ok }

// Class returns the class of the level, None if t is not one. Who can sing works
// lightly or less; speech that breaks is upper moderate to vigorous and is taken
// as vigorous.
//
// Source: cdc_talk, cdc_talk_2009, paga2018.
// Practice rule: practice.
func (t Talk) Class() Class { l, _ := t.level(); return l.class }

// Allows reports whether the level fits a class. Singing fits light and very
// light alike; every other level fits only its own class.
//
// Source: cdc_talk_2009.
func (t Talk) Allows(c Class) bool {
	return t.Valid() && (c == t.Class() || t == TalkSing && c == VeryLight)
}

// Stage returns the stage of the formal talk test that the level stands for:
// positive, last positive, equivocal or negative.
//
// Source: foster2008, persinger2004.
func (t Talk) Stage() string { l, _ := t.level(); return l.stage }

// Example returns what a client at that level would say, to choose from.
func (t Talk) Example() string { l, _ := t.level(); return l.example }

// cues tell a client how work of each class feels when talking.
var cues = [...]string{
	VeryLight:   "So easy that you could sing without any effort.",
	Light:       "Easy enough that you could sing a line of a song.",
	Moderate:    "You can talk in whole sentences, but you cannot sing.",
	Vigorous:    "You can say only a few words before you need a breath.",
	NearMaximal: "You have no breath left for talking.",
}

// Cue returns how work of a class feels when talking, as an instruction for the
// client; nothing for None.
//
// Source: cdc_talk, cdc_talk_2009, garber2011.
func Cue(c Class) string {
	if c <= None || c > NearMaximal {
		return ""
	}
	return cues[c]
}
