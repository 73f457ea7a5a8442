package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/store"
)

// How often the kill test kills: 3 times for a developer, more by the flag, or
// by SCAPEROUND_KILLS where flags cannot be passed.
var kills = flag.Int("kills", killsFromEnv(), "how often the kill test kills")

func killsFromEnv() int {
	if n, err := strconv.Atoi(os.Getenv("SCAPEROUND_KILLS")); err == nil && n > 0 {
		return n
	}
	return 3
}

// A tablet posts visits, each until it is acknowledged, as the page's script
// does through a bad signal.
type tablet struct {
	address, staff, tank string
	client               *http.Client
	acknowledged         *atomic.Int64

	kept   []answered // in the order of their acknowledgement
	photos []string   // keys of the photographs that were acknowledged
	err    error      // an answer that must not be
}

type answered struct {
	Visit    string `json:"visit"`
	Revision string `json:"revision"`
	Photo    string `json:"photo"`
}

func newTablet(t *testing.T, r running, who signIn, staff, tank string, acknowledged *atomic.Int64) *tablet {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	tab := &tablet{address: r.URL, staff: staff, tank: tank, acknowledged: acknowledged,
		client: &http.Client{Jar: jar, Timeout: patience, CheckRedirect: direct.CheckRedirect}}
	answer, err := tab.client.PostForm(r.URL+"/sign-in", url.Values{"email": {who.Email}, "password": {who.Password}})
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusSeeOther {
		t.Fatalf("%s cannot sign in: %s", who.Email, answer.Status)
	}
	return tab
}

// work posts one visit after the other until done is closed; the last one it
// began it also brings to its end.
func (tab *tablet) work(done <-chan struct{}, zone *time.Location) {
	for n := 0; tab.err == nil; n++ {
		select {
		case <-done:
			return
		default:
		}
		want := answered{Visit: store.NewID(), Revision: store.NewID()}
		body := url.Values{
			"visit": {want.Visit}, "revision": {want.Revision}, "base": {""}, "wire": {"1"}, "staff": {tab.staff}, "kind": {"routine"},
			"performed": {time.Now().In(zone).Add(-time.Minute).Format("2006-01-02T15:04")}, "since": {"nothing_new"},
			"leave.asked": {"1"}, "leave.all": {"checked"}, "look.animals": {"fine"},
			"reading.kh.before": {strconv.Itoa(3 + n%4)}, "unit.kh.before": {"dKH"},
			"note.inside": {fmt.Sprintf("visit %d of this tablet", n)},
		}.Encode()
		if n%(1+*kills/6) == 0 && len(tab.photos) < mostPhotos {
			if tab.err = tab.photograph(want.Visit); tab.err != nil {
				return
			}
		}
		// Sent twice: a tablet whose answer was lost sends again.
		for range 2 {
			if got, err := tab.until("/visits", "application/x-www-form-urlencoded", body); err != nil || got != want {
				tab.err = fmt.Errorf("visit %s was answered by %+v, %w", want.Visit, got, err)
				return
			}
		}
		tab.kept = append(tab.kept, want)
		tab.acknowledged.Add(1)
	}
}

// mostPhotos is how many photographs one tablet sends: two of them at one tank
// stay within what a tank may get in a day.
const mostPhotos = 25

// photograph sends one of a visit that has not arrived itself, twice.
func (tab *tablet) photograph(visit string) error {
	var picture, body bytes.Buffer
	m := image.NewGray(image.Rect(0, 0, 64, 48))
	for i := range m.Pix {
		m.Pix[i] = byte(i * (len(tab.photos) + 3))
	}
	if err := jpeg.Encode(&picture, m, nil); err != nil {
		return err
	}
	id := store.NewID()
	form := multipart.NewWriter(&body)
	now := time.Now().UTC().Format(time.RFC3339)
	for _, f := range [][2]string{{"photo", id}, {"visit", visit}, {"purpose", "before"}, {"ord", "0"}, {"taken", now}, {"sent", now}, {"staff", tab.staff}} {
		if err := form.WriteField(f[0], f[1]); err != nil {
			return err
		}
	}
	file, err := form.CreateFormFile("picture", "photograph.jpg")
	if err != nil {
		return err
	}
	if _, err := file.Write(picture.Bytes()); err != nil {
		return err
	}
	if err := form.Close(); err != nil {
		return err
	}
	for range 2 {
		if got, err := tab.until("/photos", form.FormDataContentType(), body.String()); err != nil || got.Photo != id {
			return fmt.Errorf("photograph %s was answered by %+v, %w", id, got, err)
		}
	}
	tab.photos = append(tab.photos, id)
	return nil
}

// until posts the body again and again until the server acknowledges it.
func (tab *tablet) until(to, kind, body string) (answered, error) {
	for late := time.Now().Add(2 * patience); ; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(late) {
			return answered{}, fmt.Errorf("no acknowledgement in time")
		}
		req, err := http.NewRequest(http.MethodPost, tab.address+"/tanks/"+tab.tank+to, strings.NewReader(body))
		if err != nil {
			return answered{}, err
		}
		req.Header.Set("Content-Type", kind)
		req.Header.Set("Accept", "application/json")
		answer, err := tab.client.Do(req)
		if err != nil {
			continue // killed under us
		}
		var got answered
		err = json.NewDecoder(answer.Body).Decode(&got)
		answer.Body.Close()
		switch {
		case answer.StatusCode == http.StatusServiceUnavailable:
		case answer.StatusCode != http.StatusOK && answer.StatusCode != http.StatusCreated:
			return got, fmt.Errorf("status %s", answer.Status)
		case err == nil:
			return got, nil
		}
	}
}

// The program is killed again and again while visits are posted. Every one that
// was acknowledged is there, once, and nothing else is.
func TestKilledWhileVisitsArePosted(t *testing.T) {
	needPostgres(t)
	dir, address := newFolder(t), freeAddress(t)
	flags := []string{"demo", "--data", dir, "--listen", address, "--yes"}
	p := start(t, nil, flags...)
	r := readDemo(t, p, dir)
	zone, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	before := countVisits(t, r.DatabaseURL)

	var acknowledged atomic.Int64
	var tablets []*tablet
	for i := range 4 {
		who, tank := r.Technicians[i%2], []string{r.Tank, r.Tank2}[i/2]
		tablets = append(tablets, newTablet(t, r, who, staffID(t, r.DatabaseURL, who.Email), tank, &acknowledged))
	}
	done := make(chan struct{})
	var working sync.WaitGroup
	for _, tab := range tablets {
		working.Go(func() { tab.work(done, zone) })
	}
	dice := rand.New(rand.NewPCG(uint64(os.Getpid()), uint64(time.Now().UnixNano())))
	for n := range *kills {
		waitFor(t, tablets, &acknowledged, acknowledged.Load()+4)
		time.Sleep(time.Duration(dice.IntN(60)) * time.Millisecond)
		if n%3 == 2 {
			killDatabase(t, dir)
		}
		if status := p.stop(t, os.Kill); status != -1 {
			t.Fatalf("kill %d: it had ended by itself with status %d", n+1, status)
		}
		p = start(t, nil, append(flags, "--keep")...)
		r = readDemo(t, p, dir)
	}
	waitFor(t, tablets, &acknowledged, acknowledged.Load()+4)
	close(done)
	working.Wait()

	var kept []answered
	var photos []string
	for _, tab := range tablets {
		if tab.err != nil {
			t.Fatal(tab.err)
		}
		kept, photos = append(kept, tab.kept...), append(photos, tab.photos...)
	}
	t.Logf("%d kills, %d visits and %d photographs acknowledged", *kills, len(kept), len(photos))
	if after := countVisits(t, r.DatabaseURL); after-before != len(kept) {
		t.Errorf("%d visits were acknowledged and %d are there", len(kept), after-before)
	}
	eachIsThereOnce(t, r.DatabaseURL, kept)
	photosAreThereOnce(t, r.DatabaseURL, kept, photos)
}

// photosAreThereOnce looks for every photograph that was acknowledged, whole, and
// for none beside them.
func photosAreThereOnce(t *testing.T, address string, kept []answered, photos []string) {
	t.Helper()
	var visits []string
	for _, a := range kept {
		visits = append(visits, a.Visit)
	}
	var named, all int
	err := connect(t, address).QueryRow(context.Background(), `SELECT count(*) FILTER (WHERE id = ANY ($1::uuid[]) AND octet_length(bytes) > 0 AND octet_length(small) > 0), count(*)
		FROM photo WHERE visit = ANY ($2::uuid[])`, photos, visits).Scan(&named, &all)
	if err != nil {
		t.Fatal(err)
	}
	if len(photos) == 0 || named != len(photos) || all != len(photos) {
		t.Errorf("%d photographs were acknowledged; %d of them are there, and %d in all", len(photos), named, all)
	}
}

// waitFor waits until so many visits are acknowledged.
func waitFor(t *testing.T, tablets []*tablet, acknowledged *atomic.Int64, want int64) {
	t.Helper()
	for late := time.Now().Add(2 * patience); acknowledged.Load() < want; time.Sleep(2 * time.Millisecond) {
		if time.Now().After(late) {
			t.Fatalf("only %d visits were acknowledged, %d expected by now", acknowledged.Load(), want)
		}
	}
}

// killDatabase kills the private server under the program, a moment before the
// program itself.
func killDatabase(t *testing.T, dir string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, "postgres", "pgdata", "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	pid, err := strconv.Atoi(strings.TrimSpace(strings.SplitN(string(text), "\n", 2)[0]))
	if err != nil {
		t.Fatal(err)
	}
	server, err := os.FindProcess(pid)
	if err != nil {
		t.Fatal(err)
	}
	if err := server.Kill(); err != nil {
		t.Fatal(err)
	}
}

func connect(t *testing.T, address string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.Background()) })
	return conn
}

func countVisits(t *testing.T, address string) (n int) {
	t.Helper()
	if err := connect(t, address).QueryRow(context.Background(), `SELECT count(*) FROM visit`).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func staffID(t *testing.T, address, email string) (id string) {
	t.Helper()
	if err := connect(t, address).QueryRow(context.Background(), `SELECT id FROM staff WHERE email_folded = $1`, email).Scan(&id); err != nil {
		t.Fatal(err)
	}
	return id
}

// eachIsThereOnce looks for every visit with its one revision, its one reading
// and its judgement.
func eachIsThereOnce(t *testing.T, address string, kept []answered) {
	t.Helper()
	var visits []string
	for _, a := range kept {
		visits = append(visits, a.Visit)
	}
	for what, q := range map[string]string{
		"visits":      `SELECT id::text FROM visit WHERE id = ANY ($1::uuid[])`,
		"revisions":   `SELECT visit::text FROM visit_revision WHERE visit = ANY ($1::uuid[])`,
		"readings":    `SELECT v.visit::text FROM reading r JOIN visit_revision v ON v.id = r.revision WHERE v.visit = ANY ($1::uuid[])`,
		"evaluations": `SELECT DISTINCT v.visit::text FROM evaluation e JOIN visit_revision v ON v.id = e.revision WHERE v.visit = ANY ($1::uuid[])`,
	} {
		rows, err := connect(t, address).Query(context.Background(), q, visits)
		if err != nil {
			t.Fatal(err)
		}
		got, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatal(err)
		}
		slices.Sort(got)
		want := slices.Sorted(slices.Values(visits))
		if !slices.Equal(got, want) {
			t.Errorf("%s: %d are there for %d acknowledged visits", what, len(got), len(want))
		}
	}
}
