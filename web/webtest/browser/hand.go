package browser

import (
	"strings"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Tap touches the element that a CSS selector finds, in its middle, after
// bringing it into sight. One that cannot be seen, or that something else lies
// over, fails the test: a finger would not hit it either.
func (b *Tab) Tap(selector string) {
	b.t.Helper()
	spot := Eval[place](b, where, selector)
	if spot.Why != "" {
		b.t.Fatalf("tap %s at %s: %s", selector, b.Path(), spot.Why)
	}
	b.do("tap "+selector, chromedp.TapXY(spot.X, spot.Y))
}

// TapText touches the button, link, label or summary that bears the text. Where the
// page draws it anew in between, the new one is touched.
func (b *Tab) TapText(text string) {
	b.t.Helper()
	selector := b.named(text)
	for range 5 {
		if Eval[bool](b, "document.querySelector(%s) !== null", selector) {
			break
		}
		selector = b.named(text)
	}
	b.Tap(selector)
}

// TapTo touches something that leads to another page and waits for it.
func (b *Tab) TapTo(selector string) {
	b.t.Helper()
	b.leave(func() { b.Tap(selector) })
}

// TapTextTo is TapTo for what bears the text.
func (b *Tab) TapTextTo(text string) {
	b.t.Helper()
	b.TapTo(b.named(text))
}

// leave does something and waits until another page has loaded.
func (b *Tab) leave(act func()) {
	b.t.Helper()
	Eval[bool](b, "window.stillHere = true")
	b.mute(true)
	act()
	b.Until("!window.stillHere && document.readyState === 'complete'")
	b.mute(false)
}

type place struct {
	X, Y float64
	Why  string
}

// where finds the middle of an element and what would be hit there.
const where = `(selector => {
	const el = document.querySelector(selector);
	if (!el) return { Why: "there is none" };
	el.scrollIntoView({ block: "center", inline: "nearest", behavior: "instant" });
	const box = el.getBoundingClientRect();
	if (box.width === 0 || box.height === 0) return { Why: "it cannot be seen" };
	const x = box.x + box.width / 2, y = box.y + box.height / 2;
	const hit = document.elementFromPoint(x, y);
	if (!hit) return { Why: "it lies outside the screen" };
	if (el.contains(hit) || hit.contains(el) && hit.closest("label, button, a") === el.closest("label, button, a")) return { X: x, Y: y, Why: "" };
	return { Why: "under " + hit.outerHTML.slice(0, 120) };
})(%s)`

// named marks what bears a text and returns a selector for it.
func (b *Tab) named(text string) string {
	b.t.Helper()
	found := Eval[int](b, `(text => {
		document.querySelectorAll("[data-test-named]").forEach(x => x.removeAttribute("data-test-named"));
		const plain = x => x.innerText.replace(/\s+/g, " ").trim();
		const all = [...document.querySelectorAll("button, a, label, summary")].filter(x => x.checkVisibility({ visibilityProperty: true }));
		let fit = all.filter(x => plain(x) === text);
		if (fit.length === 0) fit = all.filter(x => plain(x).startsWith(text));
		fit[0]?.setAttribute("data-test-named", "");
		return fit.length;
	})(%s)`, text)
	if found == 0 {
		b.t.Fatalf("nothing to touch says %q at %s", text, b.Path())
	}
	return "[data-test-named]"
}

// Type types into whatever has the focus.
func (b *Tab) Type(keys string) {
	b.t.Helper()
	b.do("type "+keys, chromedp.KeyEvent(keys))
}

// Fill taps a field and types into it, over what was there.
func (b *Tab) Fill(selector, text string) {
	b.t.Helper()
	b.Tap(selector)
	b.Until("document.activeElement === document.querySelector(%s)", selector)
	Eval[bool](b, "(document.activeElement.select?.(), true)")
	b.Type(text)
}

// Choose takes an option of a select, as the system's own list would.
func (b *Tab) Choose(selector, value string) {
	b.t.Helper()
	ok := Eval[bool](b, `((selector, value) => {
		const s = document.querySelector(selector);
		if (![...s.options].some(o => o.value === value)) return false;
		s.value = value;
		s.dispatchEvent(new Event("input", { bubbles: true }));
		s.dispatchEvent(new Event("change", { bubbles: true }));
		return true;
	})(%s, %s)`, selector, value)
	if !ok {
		b.t.Fatalf("%s has no option %q", selector, value)
	}
}

// Value is what a field holds.
func (b *Tab) Value(selector string) string {
	b.t.Helper()
	return Eval[string](b, "document.querySelector(%s).value", selector)
}

// Text is what a person reads in the elements that a selector finds.
func (b *Tab) Text(selector string) string {
	b.t.Helper()
	return strings.TrimSpace(Eval[string](b, `[...document.querySelectorAll(%s)].map(x => x.innerText).join("\n")`, selector))
}

// Has reports whether a selector finds anything.
func (b *Tab) Has(selector string) bool {
	b.t.Helper()
	return Eval[bool](b, "document.querySelector(%s) !== null", selector)
}

// Attr is an attribute of the element found.
func (b *Tab) Attr(selector, name string) string {
	b.t.Helper()
	return Eval[string](b, "document.querySelector(%s)?.getAttribute(%s) ?? ''", selector, name)
}

// Press presses one key, such as kb.Tab.
func (b *Tab) Press(key string) {
	b.t.Helper()
	b.do("press a key", chromedp.KeyEvent(key))
}

// TabTo presses the tabulator until what a selector finds has the focus. What
// lies on the way must show its focus and lie in sight; what does not is told
// once the way is done.
func (b *Tab) TabTo(selector string) {
	b.t.Helper()
	for range 400 {
		b.Press(kb.Tab)
		at := Eval[struct {
			There         bool
			What, Trouble string
		}](b, focus, selector)
		if at.Trouble != "" {
			b.t.Errorf("on the way to %s: %s: %s", selector, at.What, at.Trouble)
		}
		if at.There {
			return
		}
	}
	b.t.Fatalf("%s is not reached by the tabulator", selector)
}

// focus says whether the focus is where it should be, and whether a person sees
// where it is.
const focus = `(selector => {
	const el = document.activeElement;
	const out = { There: el.matches(selector), What: el.outerHTML.slice(0, 120), Trouble: "" };
	if (el === document.body) return out;
	const face = el.closest("label")?.querySelector(".tile-face") ?? el;
	const seen = x => { const s = getComputedStyle(x); return s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2; };
	if (!seen(el) && !seen(face)) out.Trouble = "its focus cannot be seen";
	const box = face.getBoundingClientRect();
	const x = Math.min(Math.max(box.x + box.width / 2, 1), innerWidth - 1), y = box.y + box.height / 2;
	if (y < 0 || y > innerHeight) out.Trouble = "it has the focus outside the screen";
	else {
		const hit = document.elementFromPoint(x, y);
		if (hit && hit.closest(".foot, .rail") && !el.closest(".foot, .rail")) out.Trouble = "it has the focus under " + hit.outerHTML.slice(0, 80);
	}
	return out;
})(%s)`
