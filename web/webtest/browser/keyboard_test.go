package browser

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// TestVisitByKeyboardAlone signs in and writes a visit down without touching
// the screen once.
func TestVisitByKeyboardAlone(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Study")
	b := Open(t, d.URL, Lying)
	b.Go("/sign-in?next=/tanks/" + tank + "/visits/new")
	b.TabTo("input[name=email]")
	b.Type(d.Technician.Email)
	b.TabTo("input[name=password]")
	b.Type("moss on the weir")
	b.leave(func() { b.Press(kb.Enter) })
	b.awake()

	// Past the menu in one step.
	b.TabTo(`a[href="#content"]`)
	b.Press(kb.Enter)
	b.TabTo(`[data-stamp="arrived"] button`)
	b.Press(" ")
	b.Until(`document.querySelector('[name="arrived"]').value !== ""`)
	b.TabTo(`input[name="since"][value="nothing_new"]`)
	b.Press(" ")
	// A group of answers is one stop, at the answer that holds: "not looked".
	// Arrows go on within it, and round.
	b.TabTo(`input[name="look.animals"]`)
	b.Press(kb.ArrowDown)
	b.Until(`document.querySelector('[name="look.animals"]:checked').value === "fine"`)
	b.TabTo(`input[name="look.plants"]`)
	b.TabTo(`input[name="work.water_change"]`)
	b.Press(" ")
	b.TabTo(`input[name="work.water_change.litres"]`)
	b.Type("35")
	b.TabTo(reading("temp.before") + " input.figure")
	b.Type("24,5")
	b.Press(kb.Enter) // goes on to the next field and sends nothing
	if !strings.HasPrefix(b.Path(), "/tanks/"+tank+"/visits/new") {
		t.Fatalf("the enter key sent the visit: at %s", b.Path())
	}
	b.TabTo(`input[name="leave.all"]`)
	b.Press(" ")
	b.TabTo(`[data-send]`)
	b.leave(func() { b.Press(kb.Enter) })
	if n := d.count(t, `SELECT count(*) FROM reading JOIN visit_revision ON visit_revision.id = reading.revision WHERE tank = $1 AND kind = 'temp' AND typed = '24,5' AND value = 24.5`, tank); n != 1 {
		t.Errorf("24,5 °C is kept %d times, at %s: %s", n, b.Path(), b.Text("main"))
	}
}
