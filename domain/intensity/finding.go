package intensity

// Verdict says what may be done with a value that somebody entered.
type Verdict int8

// The verdicts, from the mildest.
const (
	OK      Verdict = iota // save it
	Confirm                // save it once the person has said that it is right
	Reject                 // cannot be saved
)

// String returns the name of the verdict.
func (v Verdict) String() string { return [...]string{"ok", "confirm", "reject"}[v] }

// Finding is the judgement of one entered value. The zero Finding is: fine.
type Finding struct {
	Verdict  Verdict
	Sentence string // for the person who typed it; empty if there is nothing to say
	Hold     bool   // raises a review, whatever the verdict
}
