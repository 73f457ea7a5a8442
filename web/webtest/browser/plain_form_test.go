package browser

import (
	"strings"
	"testing"
)

// TestPlainFormWithoutASignal: a form that the tablet does not send by itself
// says that it was not sent, keeps what was typed, and makes it once.
func TestPlainFormWithoutASignal(t *testing.T) {
	d := shop(t)
	tank := "/tanks/" + d.tank(t, "The barge")
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "taken"`)
	defer d.Line.Mend()

	b.Go("/customers/new")
	const name = `Harrow & "Daughters" <florists>`
	b.Fill(`[name="name"]`, name)
	d.Line.Cut()
	b.Offline(true)
	b.TapTo(`main form [type="submit"]`)
	if b.Text("h1") != "Not sent" || !strings.Contains(b.Text("main"), "nothing was sent") || b.Value(`[name="name"]`) != name {
		t.Fatalf("without a signal a form ends at %s", b.Text("main"))
	}
	b.look(t)
	d.Line.Mend()
	b.Offline(false)
	b.TapTextTo("Send it now")
	if b.Text("h1") != name || d.count(t, `SELECT count(*) FROM customer WHERE name = $1`, name) != 1 {
		t.Errorf("sent later, it ends at %s", b.Text("main"))
	}

	b.Go(tank)
	before := d.count(t, `SELECT count(*) FROM stop`)
	d.Line.Cut()
	b.Offline(true)
	b.TapTo(`form[action$="/arrive"] [type="submit"]`)
	if !strings.Contains(b.Text("main"), "its form asks when you arrived") || b.Attr("main a.primary", "href") != tank+"/visits/new" {
		t.Errorf("arriving without a signal ends at %s", b.Text("main"))
	}
	d.Line.Mend()
	b.Offline(false)
	b.TapTextTo("Send it now")
	if n := d.count(t, `SELECT count(*) FROM stop`); n != before+1 {
		t.Errorf("%d stops were begun", n-before)
	}
}
