package static

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

func style(t *testing.T) string {
	t.Helper()
	var text strings.Builder
	for _, name := range []string{"css/brae.css", "css/staff.css"} {
		css, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text.Write(css)
	}
	return text.String()
}

// schemes reads the colours of the style sheet as they are: of the light scheme,
// and of the dark one laid over it.
func schemes(t *testing.T) map[string]map[string]string {
	t.Helper()
	css := style(t)
	root := func(from string) string {
		_, rest, found := strings.Cut(css, from)
		block, _, closed := strings.Cut(rest, "}")
		if !found || !closed {
			t.Fatalf("no %q in the style sheet", from)
		}
		return block
	}
	token := regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`)
	light, dark := map[string]string{}, map[string]string{}
	for _, m := range token.FindAllStringSubmatch(root(":root {"), -1) {
		light[m[1]], dark[m[1]] = m[2], m[2]
	}
	for _, m := range token.FindAllStringSubmatch(root("(prefers-color-scheme: dark) {\n  :root {"), -1) {
		if _, ok := light[m[1]]; !ok {
			t.Errorf("--%s is only in the dark scheme", m[1])
		}
		dark[m[1]] = m[2]
	}
	if len(light) < 15 || light["ground"] == dark["ground"] {
		t.Fatalf("read %d colours, ground %s and %s", len(light), light["ground"], dark["ground"])
	}
	return map[string]map[string]string{"light": light, "dark": dark}
}

// luminance is the relative luminance of a colour. Source: WCAG 2.2, definition.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		t.Fatalf("colour %q: %v", hex, err)
	}
	channel := func(shift uint) float64 {
		c := float64(n>>shift&0xff) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(16) + 0.7152*channel(8) + 0.0722*channel(0)
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	for _, tt := range []struct {
		source string
		a, b   string
		want   float64
	}{
		{"WCAG 2.2, contrast ratio: black on white is 21", "#000000", "#ffffff", 21},
		{"WCAG 2.2, contrast ratio: a colour on itself is 1", "#7d7672", "#7d7672", 1},
		{"common practice: #767676 is the lightest grey that passes on white", "#767676", "#ffffff", 4.54},
		{"common practice: red on white is 4.00", "#ff0000", "#ffffff", 4.00},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := contrast(t, tt.a, tt.b); math.Abs(got-tt.want) > 0.005 {
				t.Errorf("contrast(%s, %s) = %.3f; want %.2f", tt.a, tt.b, got, tt.want)
			}
		})
	}
}

// TestContrast checks every pair of colours that meet on a page.
func TestContrast(t *testing.T) {
	const (
		text    = 4.5 // WCAG 2.2, 1.4.3 Contrast (Minimum)
		nonText = 3.0 // WCAG 2.2, 1.4.11 Non-text Contrast
	)
	pairs := []struct {
		front, back string
		least       float64
	}{
		{"ink", "ground", text}, {"ink", "raised", text}, {"ink", "sky", text}, {"ink", "far", text}, {"ink", "pale", text},
		{"ink", "action-pale", text}, {"ink", "danger-pale", text},
		{"soft", "ground", text}, {"soft", "raised", text}, {"soft", "sky", text}, {"soft", "pale", text},
		{"soft", "action-pale", text}, {"soft", "danger-pale", text},
		{"action", "ground", text}, {"action", "raised", text}, {"action", "pale", text}, {"action", "danger-pale", text},
		{"on-action", "action", text}, {"on-danger", "danger", text}, {"on-alarm", "alarm", text},
		{"danger", "ground", text}, {"danger", "raised", text}, {"danger", "danger-pale", text},
		{"hill", "ground", text},                                 // "Done" in a list of steps
		{"edge", "ground", nonText}, {"edge", "raised", nonText}, // around fields
		{"hill", "pale", nonText}, {"hill", "raised", nonText}, {"hill", "sky", nonText}, // the textures, and the mark
		{"action", "sky", nonText},
	}
	for name, colours := range schemes(t) {
		for _, p := range pairs {
			front, ok := colours[p.front]
			back, ok2 := colours[p.back]
			if !ok || !ok2 {
				t.Errorf("%s: no --%s or no --%s", name, p.front, p.back)
				continue
			}
			if got := contrast(t, front, back); got < p.least {
				t.Errorf("%s: %s on %s is %.2f; want at least %.1f", name, p.front, p.back, got, p.least)
			}
		}
	}
}

// TestStyleUsesTokens keeps colours in one place, where TestContrast sees them.
func TestStyleUsesTokens(t *testing.T) {
	css := style(t)
	defined := map[string]bool{}
	for _, m := range regexp.MustCompile(`--([a-z-]+):`).FindAllStringSubmatch(css, -1) {
		defined[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`var\(--([a-z-]+)\)`).FindAllStringSubmatch(css, -1) {
		if !defined[m[1]] {
			t.Errorf("var(--%s) is defined nowhere", m[1])
		}
	}
	literal := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgb|hsl|oklch`)
	for line := range strings.Lines(regexp.MustCompile(`--[a-z-]+: [^;]+;`).ReplaceAllString(css, "")) {
		if literal.MatchString(line) {
			t.Errorf("a colour outside the tokens: %s", strings.TrimSpace(line))
		}
	}
}

// TestWeight keeps the first visit light: 25 KB packed for a client's page, of
// which the style sheet may take a quarter and the script a twentieth.
func TestWeight(t *testing.T) {
	for _, tt := range []struct {
		name        string
		raw, packed int
	}{
		{"css/brae.css", 24 << 10, 7 << 10},
		{"css/staff.css", 24 << 10, 7 << 10},
		{"js/form.js", 4 << 10, 5 << 8},
		{ClientScript, 24 << 10, 8 << 10},
		{"js/outbox.js", 5 << 10, 2 << 10},
		{"js/triage.js", 2 << 10, 3 << 8},
		{"js/waiting.js", 16 << 10, 5 << 10},
		{"js/worker.js", 4 << 10, 5 << 8},
		{"js/leave.js", 1 << 10, 1 << 9},
		{"js/idle.js", 4 << 10, 5 << 8},
		{"js/draft.js", 4 << 10, 5 << 8},
	} {
		f := load().byName[tt.name]
		if len(f.body) > tt.raw || len(f.packed) > tt.packed {
			t.Errorf("%s is %d bytes, %d packed; want at most %d and %d", tt.name, len(f.body), len(f.packed), tt.raw, tt.packed)
		}
	}
}
