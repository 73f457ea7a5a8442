// Package browser drives a headless Chromium against the real router, as a
// technician's tablet or a customer's phone would use it. Its tests walk the
// whole path of a visit and look at every page; they need Chromium and Postgres
// and skip themselves where either is missing (SCAPEROUND_REQUIRE=db,browser
// makes that a failure). There is no node in it.
//
// A test opens a tab with Open and works it by touch, keyboard or script. One
// Chromium serves the whole run; every Open is a fresh browser in it, with
// cookies and storage of its own.
package browser

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"scaperound/store/storetest"
)

// patience is how long a test waits for what a browser on an idle machine does
// in a moment.
const patience = 90 * time.Second

// candidates are the names under which systems install Chromium.
func candidates() []string {
	if runtime.GOOS == "darwin" {
		return []string{
			"/Applications/Chromium.app/Contents/MacOS/Chromium",
			"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
		}
	}
	return []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"}
}

func find() (string, error) {
	for _, name := range candidates() {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("there is no Chromium: looked for %v", candidates())
}

// A Browser is one running Chromium with one profile.
type Browser struct {
	ctx    context.Context
	cancel context.CancelFunc
}

// launch starts Chromium on a profile, which it makes where there is none.
func launch(path, profile string) (*Browser, error) {
	alloc, endAlloc := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath(path),
		chromedp.UserDataDir(profile),
		chromedp.Headless,
		chromedp.NoFirstRun,
		chromedp.NoDefaultBrowserCheck,
		chromedp.NoSandbox, // a container has no right to make one
		chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-default-apps", true),
		chromedp.Flag("disable-extensions", true),
		chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-features", "Translate,OptimizationHints,MediaRouter"),
		chromedp.Flag("disable-prompt-on-repost", true),
		// Several tabs, none of them in front: all are to work at full speed.
		chromedp.Flag("disable-background-timer-throttling", true),
		chromedp.Flag("disable-backgrounding-occluded-windows", true),
		chromedp.Flag("disable-renderer-backgrounding", true),
		chromedp.Flag("force-color-profile", "srgb"),
		chromedp.Flag("lang", "en-IE"),
		chromedp.Flag("password-store", "basic"),
		// A tablet whose clock believes in another zone than the shop's.
		chromedp.Env("TZ=Pacific/Auckland"),
	)
	ctx, endBrowser := chromedp.NewContext(alloc)
	b := &Browser{ctx: ctx, cancel: func() { endBrowser(); endAlloc() }}
	// The first call binds the browser's life to its context, so it has no limit
	// of its own; one that does not start is ended from outside.
	late := time.AfterFunc(patience, b.cancel)
	defer late.Stop()
	if err := chromedp.Do(ctx); err != nil {
		b.cancel()
		return nil, fmt.Errorf("start Chromium: %w", err)
	}
	return b, nil
}

// Launch starts a Chromium of the test's own on a profile, which outlives it.
// The one that the other tests share is ended meanwhile: two at once are too
// much for a small machine.
func Launch(t testing.TB, profile string) *Browser {
	t.Helper()
	path, err := find()
	if err != nil {
		storetest.SkipFor(t, "browser", "%v", err)
	}
	shared.end()
	b, err := launch(path, profile)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(b.close)
	return b
}

// close ends the browser in order: it writes its profile down first.
func (b *Browser) close() {
	limit := time.AfterFunc(10*time.Second, b.cancel)
	defer limit.Stop()
	_ = chromedp.Cancel(b.ctx)
	b.cancel()
}

// remove removes a profile. A killed browser's helpers may go on writing there
// for a moment, so it looks again.
func remove(dir string) {
	for gone, tries := 0, 0; gone < 3 && tries < 100; tries++ {
		if err := os.RemoveAll(dir); err != nil {
			gone = 0
		} else {
			gone++
		}
		time.Sleep(30 * time.Millisecond)
	}
}

// Kill ends the browser as an empty battery does: no page hears of it.
func (b *Browser) Kill(t testing.TB) {
	t.Helper()
	if err := chromedp.FromContext(b.ctx).Browser.Process().Kill(); err != nil {
		t.Fatalf("kill the browser: %v", err)
	}
	b.cancel()
}

// Profile is the path of a profile folder for Launch.
func Profile(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "scaperound-browser-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { remove(dir) })
	return filepath.Join(dir, "profile")
}

// sharing is the browser that the tests of a run share.
type sharing struct {
	mu      sync.Mutex
	browser *Browser
	dir     string
}

var shared sharing

// get starts the shared browser at its first use.
func (s *sharing) get(t testing.TB) *Browser {
	t.Helper()
	path, err := find()
	if err != nil {
		storetest.SkipFor(t, "browser", "%v", err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.browser != nil {
		return s.browser
	}
	if s.dir, err = os.MkdirTemp("", "scaperound-browser-"); err != nil {
		t.Fatal(err)
	}
	if s.browser, err = launch(path, filepath.Join(s.dir, "profile")); err != nil {
		os.RemoveAll(s.dir)
		t.Fatal(err)
	}
	return s.browser
}

func (s *sharing) end() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.browser == nil {
		return
	}
	s.browser.close()
	remove(s.dir)
	s.browser = nil
}
