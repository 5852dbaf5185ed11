package fitness_test

import (
	"errors"
	"maps"
	"math"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/fitness"
)

// defaults are the settings that a practice starts with.
var defaults = fitness.PolicyFrom(nil)

// near fails if got is further than tol from want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v; want %v within %v", what, got, want, tol)
	}
}

// refuses fails unless err is problems at exactly these fields.
func refuses(t *testing.T, err error, fields ...string) {
	t.Helper()
	p, ok := errors.AsType[domain.Problems](err)
	if !ok {
		t.Fatalf("error = %v; want problems at %v", err, fields)
	}
	if got := slices.Sorted(maps.Keys(p)); !slices.Equal(got, fields) {
		t.Errorf("problems at %v (%v); want at %v", got, err, fields)
	}
	for field, sentence := range p {
		if n := len(sentence); n < 10 || sentence[n-1] != '.' && sentence[n-1] != '?' {
			t.Errorf("problem at %s is %q; want a sentence", field, sentence)
		}
	}
}

func held(err error) bool { return errors.Is(err, domain.ErrHeld) }
