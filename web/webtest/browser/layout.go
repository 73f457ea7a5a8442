package browser

// Sideways says how many CSS pixels of the page lie outside the screen's width,
// and what sticks out. 0 where nothing has to be scrolled sideways.
func (b *Tab) Sideways() (over int64, what []string) {
	b.t.Helper()
	got := Eval[struct {
		Width int64
		What  []string
	}](b, `(width => {
		const page = document.scrollingElement;
		const out = [];
		if (page.scrollWidth > width) {
			for (const el of document.body.querySelectorAll("*")) {
				const box = el.getBoundingClientRect();
				if (box.right > width + 0.5 && el.checkVisibility()) out.push(el.outerHTML.slice(0, 110));
			}
		}
		return { Width: page.scrollWidth, What: out.slice(0, 5) };
	})(%s)`, b.screen.Width)
	return got.Width - b.screen.Width, got.What
}

// touch is the least side of what is meant to be touched, in CSS pixels.
const touch = 48

// Small lists what is meant to be touched and is too small for a wet finger, or
// for an arm's length. Links within a sentence are left out.
func (b *Tab) Small() []string {
	b.t.Helper()
	return Eval[[]string](b, `(least => {
		const out = [];
		const shown = x => x.checkVisibility({ visibilityProperty: true, opacityProperty: false }) && !x.closest(".out-of-sight, [inert]");
		for (const x of document.querySelectorAll("button, .button, summary, select, textarea, input:not([type=hidden]), nav a, a.row")) {
			// A box inside its label is touched by the label.
			const target = x.matches("input[type=checkbox], input[type=radio]") ? x.closest("label") ?? x : x;
			if (!shown(target) || x.tabIndex < 0 && x.matches("button")) continue;
			const box = target.getBoundingClientRect();
			if (box.width < least - 0.5 || box.height < least - 0.5) out.push(Math.round(box.width) + "x" + Math.round(box.height) + " " + target.outerHTML.slice(0, 140));
		}
		return out.slice(0, 12);
	})(%s)`, touch)
}

// Unfold opens everything on the page that is folded away.
func (b *Tab) Unfold() {
	b.t.Helper()
	Eval[int](b, "(x => x.length)([...document.querySelectorAll('details')].map(d => d.open = true))")
}
