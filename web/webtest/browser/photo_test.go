package browser

import (
	"bytes"
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// lying is a camera's file that lies on its side: its upper half is red and its
// lower half blue, and its notes ask for a turn to the right (Exif orientation
// 6), so that whoever sees it upright sees blue on the left and red on the right.
// The notes also name a place.
func lying(t testing.TB) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 2400, 1200))
	for y := range 1200 {
		for x := range 2400 {
			c := color.RGBA{200, 30, 30, 255}
			if y >= 600 {
				c = color.RGBA{30, 50, 200, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	notes := []byte("Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00PLACE-53.3498N")
	file := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(notes)+2))...)
	file = append(append(file, notes...), b.Bytes()[2:]...)
	path := filepath.Join(t.TempDir(), "camera.jpg")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// shoot gives a file to the camera's button of a step of the form.
func (b *Tab) shoot(purpose, file string) {
	b.t.Helper()
	step := `[data-photo-step="` + purpose + `"]`
	b.Until(`!document.querySelector(%s).hidden`, step+" [data-photo-tap]")
	b.do("choose a file", chromedp.SetUploadFiles(step+" input[type=file]", []string{file}))
	b.Until(`document.querySelector(%s) !== null`, step+" [data-photo-taken] li")
}

// TestAPhotographGoesApartFromItsVisit takes one in a dead spot, sends the visit
// first, and finds the photograph with it, once and upright.
func TestAPhotographGoesApartFromItsVisit(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Attic")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.shoot("before", lying(t))
	key := b.Value(`[name="visit"]`)
	b.Until(`document.querySelector("[data-photo-queue]").textContent.includes("1 photograph still to send.")`)
	for _, x := range b.Small() {
		t.Errorf("with a photograph waiting, too small to touch: %s", x)
	}
	b.shoot("after", lying(t))
	b.Until(`document.querySelector("[data-photo-queue]").textContent.includes("2 photographs still to send.")`)
	b.fill()
	if got := b.Value(`[name="visit"]`); got != key {
		t.Fatalf("the visit was %s when it was photographed, and is %s", key, got)
	}
	if n := d.count(t, `SELECT count(*) FROM photo WHERE visit = $1`, key); n != 0 {
		t.Fatal("a photograph came through a cut line")
	}

	// The signal is back, and the photographs keep nobody from sending the visit.
	b.Offline(false)
	d.Line.Mend()
	if id := b.send(); id != key {
		t.Errorf("sent as %s, begun as %s", id, key)
	}
	// What the form's page could not finish the visit's page goes on with.
	b.Until(`scaperound.person() !== "" && scaperound.photos.left().then(n => n === 0)`)
	if n := d.count(t, `SELECT count(*) FROM photo WHERE visit = $1 AND tank = $2`, key, tank); n != 2 {
		t.Errorf("%d photographs of the visit are kept, want 2", n)
	}
	b.Reload()
	b.Until(`scaperound.photos.sendAll().then(() => true)`)
	if n := d.count(t, `SELECT count(*) FROM photo WHERE visit = $1`, key); n != 2 {
		t.Errorf("after another look %d photographs are kept", n)
	}
	if n := Eval[int](b, `document.querySelectorAll(".print-row img").length`); n != 2 {
		t.Errorf("the visit's page shows %d photographs", n)
	}

	var file []byte
	err := d.DB.Pool().QueryRow(context.Background(), `SELECT bytes FROM photo WHERE visit = $1 AND purpose = 'before'`, key).Scan(&file)
	if err != nil {
		t.Fatal(err)
	}
	for _, secret := range []string{"PLACE", "Exif"} {
		if bytes.Contains(file, []byte(secret)) {
			t.Errorf("what was kept holds %s", secret)
		}
	}
	m, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if m.Bounds().Dx() != 800 || m.Bounds().Dy() != 1600 {
		t.Errorf("kept as %v, want 800 × 1600", m.Bounds())
	}
	for _, at := range []struct {
		x, y int
		red  bool
	}{{100, 100, false}, {100, 1500, false}, {700, 100, true}, {700, 1500, true}} {
		r, _, blue, _ := m.At(at.x, at.y).RGBA()
		if (r > blue) != at.red {
			t.Errorf("at %d, %d it is not what stood there", at.x, at.y)
		}
	}
}

// TestARefusedPhotographStays: what the shop refuses stays on the tablet with
// the reason, until its person decides.
func TestARefusedPhotographStays(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Day room")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	file := lying(t)
	for range 24 {
		b.addPlain(tank)
	}
	b.shoot("before", file)
	b.Until(`document.querySelector("[data-photo-queue] .urgent-text")?.textContent.includes("24 photographs")`)
	for _, x := range b.Small() {
		t.Errorf("with a refusal, too small to touch: %s", x)
	}
	b.TapText("Give it up")
	b.Until(`document.querySelector("[data-photo-queue]").textContent.includes("Given up")`)
	b.TapText("Undo")
	b.Until(`document.querySelector("[data-photo-queue] .urgent-text") !== null`)
}

// addPlain posts a small photograph of the visit at hand past the queue.
func (b *Tab) addPlain(tank string) {
	b.t.Helper()
	status := Eval[int](b, `(async tank => {
		scaperound.page.changed();
		const canvas = Object.assign(document.createElement("canvas"), { width: 32, height: 32 });
		canvas.getContext("2d").fillRect(0, 0, 32, 32);
		const body = new FormData();
		for (const [n, v] of [["photo", scaperound.newID()], ["visit", document.getElementById("visit").elements.visit.value], ["purpose", "visit"]]) body.set(n, v);
		body.set("picture", await new Promise(yes => canvas.toBlob(yes, "image/png")), "x.png");
		return (await fetch("/tanks/" + tank + "/photos", { method: "POST", body, headers: { Accept: "application/json" } })).status;
	})(%s)`, tank)
	if status != 201 {
		b.t.Fatalf("a photograph is answered %d", status)
	}
}
