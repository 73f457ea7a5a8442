package browser

import (
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"scaperound/static"
)

// TestATankThatChangedMeanwhile: a visit is written down and judged without a
// signal, and meanwhile the shop hears of trouble at the same tank. Sent, the
// visit says which lines the technician did not have, and why.
func TestATankThatChangedMeanwhile(t *testing.T) {
	if !static.Has("assess.wasm") {
		const why = "this program has no part that judges on the tablet: go generate ./static makes it"
		if strings.Contains(os.Getenv("SCAPEROUND_REQUIRE"), "browser") {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	d := shop(t)
	tank := d.tank(t, "Physio")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	// What judging needs is here before the signal goes.
	b.Until(`scaperound.judgeHere(document.getElementById("visit"), scaperound.page.pairs()).then(x => x.record !== "")`)
	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.fill()
	b.judgedHere()
	key := b.Value(`[name="visit"]`)
	b.sendInVain()

	d.Line.Mend()
	at := time.Now().UTC().Add(-10 * time.Minute).Format(time.RFC3339)
	d.SignIn(t, d.Owner).Script("POST", "/tanks/"+tank+"/visits", "visit", "0193a5b2-7c4e-7def-8123-00000000ac01", "revision", "0193a5b2-7c4e-7def-8123-00000000ac02", "wire", "1", "staff", d.Owner.ID,
		"kind", "call_out", "performed", at, "look.animals", "trouble", "sign.fish_rapid_gill_beat", "seen", "reading.tan.before", "1.5", "unit.tan.before", "mg/L", "reading.no2.before", "0.8", "unit.no2.before", "mg/L").Wants(http.StatusCreated)
	b.Offline(false)
	b.arrived()
	b.Go("/visits/" + key)
	b.TapText("Line by line")
	said := b.Text("section:has(.acted)")
	for _, want := range []string{"The technician acted on the list that the tablet showed.", "The tablet judged by what it had taken along of this tank on", "A visit by " + d.Owner.Name, "Said here, and not on the tablet"} {
		if !strings.Contains(said, want) {
			t.Errorf("the visit does not say %q: %s", want, said)
		}
	}
	b.look(t)
	b.picture("changed-meanwhile")
}
