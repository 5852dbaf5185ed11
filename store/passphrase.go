package store

import (
	"context"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"

	"brae/domain"
)

// hasher hashes and compares passphrases, two at a time: each takes 19 MiB, and
// a flood of sign-ins must not take the memory of everything else.
type hasher struct {
	slots chan struct{}
	dummy string // compared against when there is no such account, so that it takes as long
}

// hashParams are one of the settings of equal strength in the OWASP password
// storage cheat sheet: 19 MiB, two passes, one lane.
var hashParams = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

func newHasher() *hasher {
	dummy, err := argon2id.CreateHash("nobody has this passphrase", hashParams)
	if err != nil {
		panic(err) // the system has no randomness
	}
	return &hasher{slots: make(chan struct{}, 2), dummy: dummy}
}

func (h *hasher) hash(ctx context.Context, passphrase string) (string, error) {
	select {
	case h.slots <- struct{}{}:
		defer func() { <-h.slots }()
	case <-ctx.Done():
		return "", ctx.Err()
	}
	return argon2id.CreateHash(passphrase, hashParams)
}

// matches compares a passphrase with a hash; an empty hash matches nothing but
// takes as long.
func (h *hasher) matches(ctx context.Context, passphrase, hash string) (bool, error) {
	select {
	case h.slots <- struct{}{}:
		defer func() { <-h.slots }()
	case <-ctx.Done():
		return false, ctx.Err()
	}
	if hash == "" {
		_, err := argon2id.ComparePasswordAndHash(passphrase, h.dummy)
		return false, err
	}
	return argon2id.ComparePasswordAndHash(passphrase, hash)
}

// The length of a passphrase, in characters. NIST SP 800-63B-4 asks for 8 with a
// second factor; there is none yet, so we ask for more. A longer one than the
// maximum would only cost time to hash.
const (
	passphraseMin = 12
	passphraseMax = 128
)

// CheckPassphrase reports why a passphrase cannot be taken, or "". Besides its
// length it refuses what is guessed first: few different characters, runs of the
// keyboard, and the words in about (the practice, the person, the sign-in name).
func CheckPassphrase(passphrase string, about ...string) string {
	length := utf8.RuneCountInString(passphrase)
	if !utf8.ValidString(passphrase) || length < passphraseMin {
		return "Use at least 12 characters. Three or four words of your own are easy to remember."
	}
	if length > passphraseMax {
		return "Use 128 characters at most."
	}
	low := strings.ToLower(passphrase)
	distinct := map[rune]bool{}
	for _, r := range low {
		distinct[r] = true
	}
	rest := low
	for _, word := range append(about, "brae", "password", "passphrase", "passwort", "contraseña", "letmein", "welcome", "iloveyou", "p@ssw0rd", "passw0rd", "administrator", "mailcreated") {
		for part := range strings.FieldsSeq(strings.ToLower(word)) {
			if len(part) >= 3 {
				rest = strings.ReplaceAll(rest, part, "")
			}
		}
	}
	for _, run := range runs {
		for n := len(run); n >= 4; n-- {
			for i := 0; i+n <= len(run); i++ {
				rest = strings.ReplaceAll(rest, run[i:i+n], "")
			}
		}
	}
	if len(distinct) < 5 || utf8.RuneCountInString(rest) < 6 || repeats(low) {
		return "This one is guessed quickly. Use three or four words that do not belong together."
	}
	return ""
}

// runs are what fingers type without thinking: along the rows of the keyboard, down
// its columns, and to and fro between two rows.
var runs = []string{
	"01234567890123456789", "98765432109876543210", "abcdefghijklmnopqrstuvwxyz", "qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop",
	"1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik", "zaq1xsw2cde3vfr4bgt5nhy6mju7", "zaq12wsxcde34rfvbgt5",
	"1q2w3e4r5t6y7u8i9o0p", "q1w2e3r4t5y6u7i8o9p0", "qawsedrftgyhujik", "qazwsxedcrfvtgbyhnujm", "qweasdzxc", "zxcasdqwe", "112233445566778899", "1a2b3c4d5e6f7g8h", "a1b2c3d4e5f6g7h8",
}

// repeats reports whether a text is a short piece again and again.
func repeats(text string) bool {
	r := []rune(text)
	for n := 1; n <= min(8, len(r)/2); n++ {
		if slices.Equal(r[n:], r[:len(r)-n]) {
			return true
		}
	}
	return false
}

// passphraseProblem adds what is wrong with a passphrase to problems.
func passphraseProblem(problems *domain.Problems, passphrase string, about ...string) {
	if sentence := CheckPassphrase(passphrase, about...); sentence != "" {
		problems.Add("passphrase", sentence)
	}
}
