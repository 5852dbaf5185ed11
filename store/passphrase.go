package store

import (
	"context"
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
	for _, word := range append(about, "brae", "password", "passphrase", "passwort", "contraseña", "letmein", "welcome", "iloveyou") {
		for part := range strings.FieldsSeq(strings.ToLower(word)) {
			if len(part) >= 3 {
				rest = strings.ReplaceAll(rest, part, "")
			}
		}
	}
	for _, run := range []string{"01234567890123456789", "98765432109876543210", "abcdefghijklmnopqrstuvwxyz", "qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop"} {
		for n := len(run); n >= 4; n-- {
			for i := 0; i+n <= len(run); i++ {
				rest = strings.ReplaceAll(rest, run[i:i+n], "")
			}
		}
	}
	if len(distinct) < 5 || utf8.RuneCountInString(rest) < 6 {
		return "This one is guessed quickly. Use three or four words that do not belong together."
	}
	return ""
}

// passphraseProblem adds what is wrong with a passphrase to problems.
func passphraseProblem(problems *domain.Problems, passphrase string, about ...string) {
	if sentence := CheckPassphrase(passphrase, about...); sentence != "" {
		problems.Add("passphrase", sentence)
	}
}
