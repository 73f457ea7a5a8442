package main

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"scaperound/web/webtest/browser"
)

// queue puts visits of the tank at hand, and a photograph of the first, into the
// page's own outbox, as somebody does who works without a signal, and begins to
// send without waiting.
const queue = `(async n => {
	const house = scaperound, form = document.getElementById("visit"), keys = [];
	const canvas = Object.assign(document.createElement("canvas"), { width: 64, height: 48 });
	canvas.getContext("2d").fillRect(0, 0, 32, 48);
	const picture = await (await new Promise(yes => canvas.toBlob(yes, "image/jpeg"))).arrayBuffer();
	const now = house.page.wall();
	for (let i = 0; i < n; i++) {
		const body = house.page.body(), visit = house.newID(), revision = house.newID();
		for (const [k, v] of [["visit", visit], ["revision", revision], ["performed", now.day + "T" + now.time], ["since", "nothing_new"], ["leave.all", "checked"], ["note.inside", visit]]) body.set(k, v);
		await house.outbox.put({ revision, visit, tank: form.dataset.tank, name: form.dataset.tankName, person: house.person(), to: form.action, page: location.pathname, body: body.toString(), at: Date.now(), state: "waiting" });
		if (i === 0) await house.photos.add({ id: house.newID(), taken: new Date().toISOString(), picture, visit, purpose: "before", to: "/tanks/" + form.dataset.tank + "/photos", name: form.dataset.tankName });
		keys.push(visit);
	}
	house.sendAll();
	return JSON.stringify(keys);
})(%s)`

// The program is killed again and again while a page sends what the tablet has
// kept. All of it arrives, once.
func TestKilledWhileAPageSends(t *testing.T) {
	needPostgres(t)
	const each = 6
	b := browser.Launch(t, browser.Profile(t))
	dir, address := newFolder(t), freeAddress(t)
	flags := []string{"demo", "--data", dir, "--listen", address, "--yes"}
	p := start(t, nil, flags...)
	r := readDemo(t, p, dir)
	before := countVisits(t, r.DatabaseURL)
	tab := b.Tab(t, r.URL, browser.Upright)
	tab.Go("/sign-in")
	tab.Fill("input[name=email]", r.Technicians[0].Email)
	tab.Fill("input[name=password]", r.Technicians[0].Password)
	tab.TapTo("main form button[type=submit]")
	tab.Go("/tanks/" + r.Tank + "/visits/new")
	tab.Until(`!document.querySelector("[data-foot]").hidden`)

	dice := rand.New(rand.NewPCG(uint64(os.Getpid()), uint64(time.Now().UnixNano())))
	var kept []answered
	rounds := min(*kills, 20) // one tank gets a photograph in each
	for range rounds {
		var keys []string
		if err := json.Unmarshal([]byte(browser.Eval[string](tab, queue, each)), &keys); err != nil {
			t.Fatal(err)
		}
		for _, key := range keys {
			kept = append(kept, answered{Visit: key})
		}
		time.Sleep(time.Duration(dice.IntN(120)) * time.Millisecond)
		if status := p.stop(t, os.Kill); status != -1 {
			t.Fatalf("it had ended by itself with status %d", status)
		}
		p = start(t, nil, append(flags, "--keep")...)
		r = readDemo(t, p, dir)
	}
	tab.Until(`scaperound.sendAll().then(() => scaperound.outbox.all()).then(all => all.length === 0)`)
	tab.Until(`scaperound.photos.sendAll().then(() => scaperound.photos.left()).then(n => n === 0)`)
	t.Logf("%d kills, %d visits", rounds, len(kept))
	if after := countVisits(t, r.DatabaseURL); after-before != len(kept) {
		t.Errorf("%d visits were kept on the tablet and %d are in the shop", len(kept), after-before)
	}
	conn := connect(t, r.DatabaseURL)
	var once, photos int
	var visits []string
	for _, k := range kept {
		visits = append(visits, k.Visit)
	}
	const sql = `SELECT (SELECT count(*) FROM visit_revision WHERE visit = ANY ($1::uuid[]) AND note_inside = visit::text),
		(SELECT count(*) FROM photo WHERE visit = ANY ($1::uuid[]))`
	if err := conn.QueryRow(t.Context(), sql, visits).Scan(&once, &photos); err != nil {
		t.Fatal(err)
	}
	if once != len(kept) || photos != rounds {
		t.Errorf("%d visits of %d and %d photographs of %d arrived", once, len(kept), photos, rounds)
	}
}
