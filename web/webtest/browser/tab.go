package browser

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/inspector"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// A Tab is a page that is open in a browser. What it is asked and cannot do
// fails the test.
type Tab struct {
	t      testing.TB
	parent context.Context // of every tab beside this one
	ctx    context.Context
	end    context.CancelFunc
	site   string
	screen Screen

	noScript bool // pages are to be without script
	muted    bool // nothing that takes its time runs now

	mu    sync.Mutex
	wrong []string // what the console complained of
}

// Open opens a tab in a fresh browser: nobody is signed in, nothing is kept.
func Open(t testing.TB, site string, on Screen) *Tab {
	t.Helper()
	return open(t, shared.get(t).ctx, site, on, chromedp.WithNewBrowserContext())
}

// Tab opens a tab of this browser, with what its profile keeps.
func (b *Browser) Tab(t testing.TB, site string, on Screen) *Tab {
	t.Helper()
	return open(t, b.ctx, site, on)
}

// Beside opens another tab of the same browser.
func (b *Tab) Beside() *Tab {
	b.t.Helper()
	var same []chromedp.ContextOption
	if id := chromedp.FromContext(b.ctx).BrowserContextID; id != "" {
		same = append(same, chromedp.WithExistingBrowserContext(id))
	}
	return open(b.t, b.parent, b.site, b.screen, same...)
}

func open(t testing.TB, parent context.Context, site string, on Screen, opts ...chromedp.ContextOption) *Tab {
	t.Helper()
	ctx, end := chromedp.NewContext(parent, opts...)
	b := &Tab{t: t, parent: parent, ctx: ctx, end: end, site: site}
	t.Cleanup(func() {
		end()
		for _, w := range b.wrong {
			t.Errorf("the console says: %s", w)
		}
	})
	late := time.AfterFunc(patience, end)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("open a tab: %v", err)
	}
	late.Stop()
	go b.hear(chromedp.Console(ctx))
	b.Turn(on)
	b.Dark(false)
	return b
}

// hear notes every complaint of the console. A request that was cut off, or
// answered by a refusal, is no fault of the page.
func (b *Tab) hear(said func(func(chromedp.ConsoleMessage, error) bool)) {
	for m, err := range said {
		if err != nil {
			return
		}
		bad := m.Type == chromedp.ConsoleError || m.Type == chromedp.ConsoleException || m.Source == "security"
		if !bad || strings.Contains(m.Text, "Failed to load resource") {
			continue
		}
		b.mu.Lock()
		b.wrong = append(b.wrong, m.String()+" "+m.URL)
		b.mu.Unlock()
	}
}

// Close closes a tab as a person does. What Open opened holds the cookies and
// the storage of the tabs beside it, and is left open to the end.
func (b *Tab) Close() { b.end() }

// Crash kills the tab's process; its page hears nothing of it. The tab is of no
// more use.
func (b *Tab) Crash() {
	b.t.Helper()
	crashed := make(chan struct{})
	var once sync.Once
	if err := chromedp.Listen(b.ctx, func(ev any) {
		if _, is := ev.(*inspector.EventTargetCrashed); is {
			once.Do(func() { close(crashed) })
		}
	}); err != nil {
		b.t.Fatal(err)
	}
	go chromedp.Call(b.ctx, page.Crash, cdp.Empty{}) // nobody is left to answer
	select {
	case <-crashed:
	case <-time.After(patience):
		b.t.Fatal("the tab lives on")
	}
}

func (b *Tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
}

func call[P, R any](b *Tab, what string, cmd cdp.Command[P, R], params P) R {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	res, err := chromedp.Call(ctx, cmd, params)
	if err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
	return res
}

// Go opens an address, a path of the site or a whole one, and returns the
// status of its answer.
func (b *Tab) Go(address string) int {
	b.t.Helper()
	if strings.HasPrefix(address, "/") {
		address = b.site + address
	}
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	b.mute(true)
	res, err := chromedp.Run(ctx, chromedp.NavigateResponse(address))
	b.mute(false)
	if err != nil {
		b.t.Fatalf("open %s: %v", address, err)
	}
	if res == nil {
		b.t.Fatalf("open %s: no answer", address)
	}
	return int(res.Status)
}

// Reload loads the page again.
func (b *Tab) Reload() {
	b.t.Helper()
	b.mute(true)
	b.do("reload", chromedp.Reload())
	b.mute(false)
}

// Back goes back one page. The browser may bring it back as it was left, and
// then loads nothing.
func (b *Tab) Back() {
	b.t.Helper()
	from := b.Path()
	Eval[bool](b, "(history.back(), true)")
	b.Until("location.href !== %s && document.readyState === 'complete'", b.site+from)
}

// Path is the address of the page without the site.
func (b *Tab) Path() string {
	b.t.Helper()
	return strings.TrimPrefix(Eval[string](b, "location.href"), b.site)
}

// Eval runs an expression in the page. Promises are waited for.
func Eval[T any](b *Tab, expression string, args ...any) T {
	b.t.Helper()
	out, err := eval[T](b, patience, expression, args...)
	if err != nil {
		b.t.Fatalf("%s: %v", short(expression), err)
	}
	return out
}

func eval[T any](b *Tab, limit time.Duration, expression string, args ...any) (T, error) {
	ctx, cancel := context.WithTimeout(b.ctx, limit)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](with(expression, args), chromedp.EvalAwaitPromise))
}

// with fills the %s of an expression with its arguments as the page's own
// literals.
func with(expression string, args []any) string {
	if len(args) == 0 {
		return expression
	}
	literals := make([]any, len(args))
	for i, a := range args {
		text, err := json.Marshal(a)
		if err != nil {
			panic(err)
		}
		literals[i] = string(text)
	}
	return fmt.Sprintf(expression, literals...)
}

// Until waits until an expression is true in whatever page is there by then.
func (b *Tab) Until(expression string, args ...any) {
	b.t.Helper()
	if !b.Within(patience, expression, args...) {
		where, _ := eval[string](b, time.Second, "location.pathname + ': ' + document.body.innerText.slice(0, 1500)")
		b.t.Fatalf("in vain: %s\n%s", short(with(expression, args)), where)
	}
}

// Within reports whether an expression becomes true in time.
func (b *Tab) Within(limit time.Duration, expression string, args ...any) bool {
	for deadline := time.Now().Add(limit); ; time.Sleep(40 * time.Millisecond) {
		ask := "Promise.resolve(" + expression + ").then(Boolean)"
		if b.muted {
			ask = "Boolean(" + expression + ")"
		}
		// An error is a page that is on its way out: the next one is asked.
		ok, err := eval[bool](b, limit, ask, args...)
		if ok && err == nil {
			return true
		}
		if time.Now().After(deadline) || errors.Is(err, context.Canceled) {
			return false
		}
	}
}

// Offline takes the network away as the device itself would notice it; the
// line of the site is cut apart from that.
func (b *Tab) Offline(off bool) {
	b.t.Helper()
	call(b, "the network", network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1})
}

func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if len(s) > 300 {
		return s[:300] + " …"
	}
	return s
}
