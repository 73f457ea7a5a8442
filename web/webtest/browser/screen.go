package browser

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// A Screen is what a page is looked at on. Sizes are in CSS pixels.
type Screen struct {
	Name          string
	Width, Height int64
}

// The screens that the product is made for: the tablet upright and lying, and a
// customer's phone. All of them are touched.
var (
	Upright = Screen{"tablet upright", 820, 1180}
	Lying   = Screen{"tablet lying", 1180, 820}
	Phone   = Screen{"phone", 390, 844}
)

// Screens are all of them, the narrowest first.
var Screens = []Screen{Phone, Upright, Lying}

// Turn gives the tab another screen, as turning the tablet does.
func (b *Tab) Turn(s Screen) {
	b.t.Helper()
	b.screen = s
	b.do("turn to the "+s.Name, chromedp.EmulateViewport(s.Width, s.Height, chromedp.EmulateTouch, chromedp.EmulateMobile))
}

// Dark says which colour scheme the device prefers.
func (b *Tab) Dark(dark bool) {
	b.t.Helper()
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	call(b, "prefer "+scheme, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
}

// NoScript keeps the script of every page from running, from the next page on.
func (b *Tab) NoScript() { b.noScript = true }

// mute turns script off while a page loads, where the tab is to be without it.
// Afterwards what the test itself asks runs; the page's own has been passed over.
func (b *Tab) mute(on bool) {
	b.t.Helper()
	if !b.noScript {
		return
	}
	b.muted = on
	call(b, "turn script off or on", emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: on})
}
