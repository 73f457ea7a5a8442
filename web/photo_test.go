package web_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

// snapshot is a plain picture of a colour as a camera's file.
func snapshot(t *testing.T, w, h int, c color.Color) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		m.Set(i%w, i/w, c)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sendPhoto posts a form with a file, as a browser does; a nil file leaves the
// field empty.
func sendPhoto(t *testing.T, v *webtest.Visitor, path string, script bool, file []byte, pairs ...string) *webtest.Answer {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i < len(pairs); i += 2 {
		if err := form.WriteField(pairs[i], pairs[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	name := "tank.jpg"
	if file == nil {
		name = ""
	}
	part, err := form.CreateFormFile("picture", name)
	if err == nil {
		_, err = part.Write(file)
	}
	if err == nil {
		err = form.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	r := v.Request("POST", path, "x", "y")
	r.Body, r.ContentLength, r.GetBody = io.NopCloser(&body), int64(body.Len()), nil
	r.Header.Set("Content-Type", form.FormDataContentType())
	if script {
		r.Header.Set("Accept", "application/json")
	}
	return v.Do(r)
}

func TestAPhotographWithoutScript(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	path := "/tanks/" + p.tank + "/photos"
	page := v.Get(path).Wants(http.StatusOK)
	photo := page.Attr(`input[name=photo]`, "value")
	fields := []string{"photo", photo, "staff", p.Technician.ID, "visit", "", "purpose", "before", "day", "2026-09-01"}
	kept := sendPhoto(t, v, path, false, snapshot(t, 2000, 1000, color.RGBA{200, 40, 40, 255}), fields...).Wants(http.StatusSeeOther)
	page = v.Follow(kept).Wants(http.StatusOK)
	if got := page.Attr(".prints img", "width"); got != "1600" {
		t.Errorf("the large print is %s wide", got)
	}
	if got := page.Text(".print-day"); got != "Tue 1 Sept 2026" && got != "Tue 1 Sep 2026" {
		t.Errorf("dated %q", got)
	}
	// The same page, kept by the browser, with another picture: a photograph of its own.
	fields[len(fields)-1] = ""
	sendPhoto(t, v, path, false, snapshot(t, 640, 480, color.RGBA{40, 40, 200, 255}), fields...).Wants(http.StatusSeeOther)
	page = v.Get(path)
	if n := len(page.Find(".print-all > li")); n != 2 {
		t.Fatalf("%d photographs, want 2", n)
	}
	days := page.Find(".print-day")
	if len(days) != 2 || !strings.Contains(webtest.TextOf(days[0]), "1 Sep") || !strings.Contains(webtest.TextOf(days[1]), "24 Nov") {
		t.Errorf("the first and the newest side by side: %s", page.Text(".print-day"))
	}
	ids := page.Find("#f-left option")
	older := webtest.AttrOf(ids[1], "value")
	same := v.Get(path + "?left=" + older + "&right=" + older).Wants(http.StatusOK)
	if n := len(same.Find(".print")); n != 1 {
		t.Errorf("one and the same photograph is shown %d times", n)
	}
	file := v.Get("/photos/" + photo).Wants(http.StatusOK)
	for name, want := range map[string]string{"Content-Type": "image/jpeg", "X-Content-Type-Options": "nosniff", "Cache-Control": "private, no-cache"} {
		if got := file.Header.Get(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	again := v.Request("GET", "/photos/"+photo)
	again.Header.Set("If-None-Match", file.Header.Get("ETag"))
	v.Do(again).Wants(http.StatusNotModified)
	if small := v.Get("/photos/" + photo + "?print=small").Wants(http.StatusOK); len(small.Body) >= len(file.Body) || small.Header.Get("ETag") == file.Header.Get("ETag") {
		t.Error("the small print is not small, or is taken for the large one")
	}
	for _, on := range []string{"/tanks/" + p.tank, path} {
		if len(v.Get(on).Find(".prints img")) != 2 {
			t.Errorf("%s: no two prints", on)
		}
	}
}

func TestAPhotographByScript(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	path := "/tanks/" + p.tank + "/photos"
	file := snapshot(t, 640, 480, color.RGBA{40, 160, 40, 255})
	fields := []string{"photo", id(9), "visit", id(1), "purpose", "cabinet", "ord", "2", "staff", p.Technician.ID, "taken", "2026-11-24T14:40:00Z", "sent", "2026-11-24T15:00:00Z"}
	var out struct {
		Photo  string
		Replay bool
	}
	sendPhoto(t, v, path, true, file, fields...).Wants(http.StatusCreated).JSON(&out)
	if out.Photo != id(9) || out.Replay {
		t.Errorf("answered %+v", out)
	}
	sendPhoto(t, v, path, true, file, fields...).Wants(http.StatusOK).JSON(&out)
	if out.Photo != id(9) || !out.Replay {
		t.Errorf("the same again: %+v", out)
	}
	var said struct{ Error, Text string }
	sendPhoto(t, v, path, true, snapshot(t, 64, 64, color.White), fields...).Wants(http.StatusConflict).JSON(&said)
	if said.Error != "other-content" {
		t.Errorf("other bytes: %+v", said)
	}
	fields[9] = p.Owner.ID
	sendPhoto(t, v, path, true, file, fields...).Wants(http.StatusConflict).JSON(&said)
	if said.Error != "other-person" {
		t.Errorf("another person's: %+v", said)
	}
	// Its visit comes later.
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	if n := len(v.Get("/visits/" + id(1)).Find(".print-row img")); n != 1 {
		t.Errorf("%d photographs on the visit's page", n)
	}
	if n := len(v.Get("/tanks/" + p.tank + "/visits/new").Find(".pinned img")); n != 1 {
		t.Error("the cabinet does not stand beside the pinned lines")
	}
	sendPhoto(t, p.Visitor(t), path, true, file, fields...).Wants(http.StatusUnauthorized)
}

func TestHostilePhotographsAreRefusedInWords(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	path := "/tanks/" + p.tank + "/photos"
	fields := []string{"photo", id(9), "purpose", "before"}
	whole := snapshot(t, 64, 64, color.White)
	for name, c := range map[string]struct {
		file   []byte
		status int
		says   string
	}{
		"a page":    {[]byte("<html><script>1</script>"), 422, "no picture"},
		"cut short": {whole[:len(whole)/2], 422, "broken"},
		"too heavy": {append(bytes.Clone(whole), make([]byte, 13<<20)...), 413, "12 MB"},
		"none":      {nil, 422, "choose one"},
		"empty":     {[]byte{}, 422, "empty"},
	} {
		var said struct {
			Faults []struct{ Field, Text string }
		}
		sendPhoto(t, v, path, true, c.file, fields...).Wants(c.status).JSON(&said)
		if c.status == 422 && (len(said.Faults) != 1 || said.Faults[0].Field != "picture" || !strings.Contains(said.Faults[0].Text, c.says)) {
			t.Errorf("%s, by script: %+v", name, said)
		}
		page := sendPhoto(t, v, path, false, c.file, append(fields, "day", "2026-09-01")...).Wants(c.status)
		if !strings.Contains(page.Text(".faults"), c.says) {
			t.Errorf("%s: the page says %q", name, page.Text(".faults"))
		}
		if got := page.Attr("#f-day", "value"); got != "2026-09-01" {
			t.Errorf("%s: the day that was typed is %q", name, got)
		}
		page.One(`#f-purpose input[value=before][checked]`)
	}
	v.Post(path, "photo", id(9)).Wants(http.StatusBadRequest)
	sendPhoto(t, v, "/tanks/"+nowhere+"/photos", true, whole, fields...).Wants(http.StatusNotFound)
	sendPhoto(t, v, path, true, whole, "photo", "1; DROP", "purpose", "art", "ord", "-1", "taken", "soon", "visit", "x").Wants(http.StatusUnprocessableEntity)
	if n := len(v.Get(path).Find(".print-all > li")); n != 0 {
		t.Errorf("%d were kept", n)
	}
}

// A link opens the photographs of its sheets and no other; staff take back their
// own, the owner anybody's.
func TestWhoSeesAPhotograph(t *testing.T) {
	p := newPond(t)
	v, boss := p.SignIn(t, p.Technician), p.SignIn(t, p.Owner)
	path := "/tanks/" + p.tank + "/photos"
	for i, purpose := range []string{"before", "after", "after", "death"} {
		sendPhoto(t, v, path, true, snapshot(t, 64+i, 64, color.White), "photo", id(20+i), "visit", id(1), "purpose", purpose, "taken", "2026-11-24T14:4"+id(i)[35:]+":00Z").Wants(http.StatusCreated)
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	if page := v.Get("/visits/" + id(1) + "/sheet"); len(page.Find(".care img")) != 0 || len(page.Find(`#f-left option`)) != 4 {
		t.Error("photographs stand on the sheet before anybody chose them, or the wrong ones are offered")
	}
	ahead := v.Get("/visits/" + id(1) + "/sheet?left=" + id(20) + "&right=" + id(21)).Wants(http.StatusOK)
	if n := len(ahead.Find(".care img")); n != 2 {
		t.Fatalf("%d photographs on the sheet as the customer will read it", n)
	}
	give := []string{"evaluation", ahead.Attr(`input[name=evaluation]`, "value")}
	v.Post("/visits/"+id(1)+"/sheet", append(give, "left", id(20), "right", id(23))...).Wants(http.StatusConflict)
	v.Post("/visits/"+id(1)+"/sheet", append(give, "left", ahead.Attr(`form[method=post].actions input[name=left]`, "value"), "right", id(21))...).Wants(http.StatusSeeOther)
	link := strings.TrimPrefix(v.Get("/visits/"+id(1)+"/sheet").Attr(`.notice a[href*="/s/"]`, "href"), p.URL)

	reader := p.Visitor(t)
	sheet := reader.Get(link).Wants(http.StatusOK)
	images := sheet.Find(".care-prints img")
	if len(images) != 2 {
		t.Fatalf("%d photographs on the sheet", len(images))
	}
	for _, x := range images {
		file := reader.Get(webtest.AttrOf(x, "src")).Wants(http.StatusOK)
		if file.Header.Get("Content-Type") != "image/jpeg" || file.Header.Get("Cache-Control") != "no-store" || file.Header.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("by link: %v", file.Header)
		}
	}
	for _, secret := range []string{link + "/photos/" + id(22), link + "/photos/" + id(23), link[:len(link)-2] + "zz/photos/" + id(20)} {
		reader.Get(secret).Wants(http.StatusNotFound)
	}
	if status := reader.Get("/photos/" + id(20)).Status; status != http.StatusSeeOther {
		t.Errorf("without a link: %d", status)
	}
	if token := strings.TrimPrefix(link, "/s/"); strings.Contains(p.Log.String(), token) {
		t.Error("the token stands in the log")
	}

	sendPhoto(t, boss, path, true, snapshot(t, 80, 64, color.White), "photo", id(30), "purpose", "after").Wants(http.StatusCreated)
	v.Post("/photos/" + id(30) + "/withdraw").Wants(http.StatusForbidden)
	boss.Post("/photos/" + id(20) + "/withdraw").Wants(http.StatusSeeOther)
	v.Get("/photos/" + id(20)).Wants(http.StatusNotFound)
	reader.Get(link + "/photos/" + id(20)).Wants(http.StatusNotFound)
	if sheet = reader.Get(link); len(sheet.Find(".care-prints img")) != 1 || !strings.Contains(sheet.Text(".print-gone"), "taken back") {
		t.Error("the sheet does not say that a photograph was taken back")
	}
	boss.Post("/photos/"+id(20)+"/withdraw", "back", "1").Wants(http.StatusSeeOther)
	v.Get("/photos/" + id(20)).Wants(http.StatusOK)
}
