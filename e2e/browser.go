package e2e

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
)

// browser is a running Chromium. Each person gets a context of their own in it,
// as separate as two private windows.
type browser struct {
	ctx  context.Context
	stop func()
}

// errNoBrowser means that no Chromium is installed.
var errNoBrowser = errors.New("no Chromium on this machine: install it to run the browser tests")

// opened is the browser once it was started.
var opened atomic.Pointer[browser]

// theBrowser starts Chromium, once for each test program.
var theBrowser = sync.OnceValues(func() (*browser, error) {
	path, err := chromium()
	if err != nil {
		return nil, err
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-features", "Translate,BlinkGenPropertyTrees,OptimizationHints,MediaRouter"),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("accept-lang", "en"), // without a region: kilometres
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // its sandbox refuses root
	}
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, stop := chromedp.NewContext(allocator)
	if err := chromedp.Do(ctx); err != nil {
		stop()
		stopAllocator()
		return nil, err
	}
	b := &browser{ctx: ctx, stop: func() { stop(); stopAllocator() }}
	opened.Store(b)
	return b, nil
})

// chromium finds the browser, or the one that BRAE_CHROMIUM names.
func chromium() (string, error) {
	names := []string{
		"chromium", "chromium-browser", "google-chrome", "headless-shell",
		"/Applications/Chromium.app/Contents/MacOS/Chromium", "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
	}
	if given := os.Getenv("BRAE_CHROMIUM"); given != "" {
		names = []string{given}
	}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errNoBrowser
}

// newBrowser returns the browser for a test. Without one the test is skipped,
// and fails under CI.
func newBrowser(t testing.TB) *browser {
	t.Helper()
	b, err := theBrowser()
	switch {
	case err == nil:
	case errors.Is(err, errNoBrowser) && os.Getenv("CI") == "":
		t.Skip("SKIPPED: ", err)
	default:
		t.Fatal(err)
	}
	return b
}

// CloseBrowser ends the browser, if one was started. No person may be in it.
func CloseBrowser() {
	if b := opened.Load(); b != nil {
		b.stop()
	}
}
