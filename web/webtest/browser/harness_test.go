package browser

import (
	"github.com/chromedp/chromedp"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// What the tests trust is tried on a page that is wrong on purpose.
const wrong = `data:text/html,<!doctype html><html><head><meta name=viewport content="width=device-width"><title></title></head>
<body style="margin:0"><p style="color:%23999;background:%23fff">pale</p><input><div style="width:1300px;height:9px;background:red"></div>
<button style="width:20px;height:20px">x</button></body></html>`

func TestFaultsOfAPageAreSeen(t *testing.T) {
	b := Open(t, "", Phone)
	b.do("open", chromedp.Navigate(wrong))
	var rules []string
	for _, x := range b.Barriers() {
		rules = append(rules, x.Rule)
	}
	for _, want := range []string{"color-contrast", "document-title", "html-has-lang", "label"} {
		if !strings.Contains(strings.Join(rules, " "), want) {
			t.Errorf("axe does not see %s: %v", want, rules)
		}
	}
	if over, what := b.Sideways(); over != 1300-Phone.Width || len(what) != 1 {
		t.Errorf("%d px stick out: %v", over, what)
	}
	if small := b.Small(); len(small) != 2 {
		t.Errorf("too small: %v", small)
	}
	if b.Has(".nowhere") || !b.Has("button") {
		t.Error("Has is wrong")
	}
}

func TestPagesOfAPDF(t *testing.T) {
	b := Open(t, "", Phone)
	const page = `data:text/html,<!doctype html><title>x</title><style>p{break-after:page}</style><p>one<p>two /Type /Page<p>three`
	b.do("open", chromedp.Navigate(page))
	pdf := b.Print(A4)
	if n := Pages(pdf); n != 3 {
		t.Errorf("%d pages, want 3", n)
	}
	if n := Pages([]byte("a letter with /Type /Page in it")); n != 0 {
		t.Errorf("%d pages in what is no PDF", n)
	}
	// A second opinion where there is one.
	tool, err := exec.LookPath("pdfinfo")
	if err != nil {
		return
	}
	file := filepath.Join(t.TempDir(), "three.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, file).Output()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(strings.Fields(string(out)), " "), "Pages: 3 ") {
		t.Errorf("pdfinfo says:\n%s", out)
	}
}

// Whatever is tapped must be what a finger would hit.
func TestCoveredThingsAreNotTapped(t *testing.T) {
	b := Open(t, "", Upright)
	b.do("open", chromedp.Navigate(`data:text/html,<!doctype html><title>x</title><button id=a onclick="document.title='hit'">a</button>
<button id=b>b</button><div style="position:fixed;inset:0 0 auto auto;width:100%;height:9px"></div>
<div id=over style="position:absolute;background:gray"></div>`))
	b.Tap("#a")
	b.Until("document.title === 'hit'")
	Eval[bool](b, `(() => { const x = document.getElementById("b").getBoundingClientRect(), o = document.getElementById("over");
		o.style.cssText += "left:" + x.x + "px;top:" + x.y + "px;width:" + x.width + "px;height:" + x.height + "px"; return true })()`)
	if spot := Eval[place](b, where, "#b"); !strings.Contains(spot.Why, "over") {
		t.Errorf("a covered button can be tapped: %+v", spot)
	}
}
