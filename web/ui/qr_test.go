package ui

import (
	"strings"
	"testing"

	"brae/e2e/qr"
)

// TestQRCode reads the codes back with a reader that knows nothing of the library
// that made them. Source: ISO/IEC 18004, of which the reader is made.
func TestQRCode(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"http://localhost:8080/join/abcdefghijklmnopqrstuvwxyz",
		"https://brae.example/join/abcdefghijklmnopqrstuvwxyz",
		"https://a-long-name-of-a-practice.clinic.example/join/abcdefghijklmnopqrstuvwxyz",
		"https://x.example/" + strings.Repeat("y", 150),
		"a",
	} {
		code, err := newQRCode(text)
		if err != nil {
			t.Fatal(err)
		}
		modules, margin, err := qr.Modules(code.Path, code.Side)
		if err != nil {
			t.Fatal(err)
		}
		if margin != 4 { // ISO/IEC 18004, quiet zone
			t.Errorf("a margin of %d modules", margin)
		}
		got, err := qr.Decode(modules)
		if err != nil || got != text {
			t.Errorf("%q reads as %q, %v", text, got, err)
		}
	}
}
