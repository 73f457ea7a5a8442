package store_test

import (
	"bytes"
	"crypto/sha256"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
)

func (w tankWorld) picture(t *testing.T, purpose tank.PhotoPurpose, at string) tank.Picture {
	t.Helper()
	id := store.NewID()
	large := append([]byte("large "+id), bytes.Repeat([]byte{0, 0xff, '\\', '\n'}, 200)...)
	sum, sent := sha256.Sum256(large), sha256.Sum256([]byte("sent "+id))
	return tank.Picture{
		Photo: tank.Photo{ID: id, Tank: w.tank, Purpose: purpose, TakenAt: moment(t, at), Staff: w.owner, SHA256: sum[:], Width: 1600, Height: 900},
		Large: large, Small: []byte("small " + id), SentSHA256: sent[:],
	}
}

func (w tankWorld) keep(t *testing.T, p tank.Picture) {
	t.Helper()
	if replay, err := w.db.AddPhoto(t.Context(), p); err != nil || replay {
		t.Fatal(replay, err)
	}
}

func TestTheSamePhotographTwiceIsOne(t *testing.T) {
	w := newTankWorld(t)
	p := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00")
	p.Visit, p.Order = store.NewID(), 3 // which has not arrived
	w.keep(t, p)
	if replay, err := w.db.AddPhoto(t.Context(), p); err != nil || !replay {
		t.Errorf("the same again: %v, %v", replay, err)
	}
	if seen, err := w.db.PhotoSeen(t.Context(), p.ID, p.SentSHA256); err != nil || !seen {
		t.Errorf("seen: %v, %v", seen, err)
	}
	other := p
	other.SentSHA256 = []byte("other bytes")
	for _, err := range []error{
		func() error { _, err := w.db.AddPhoto(t.Context(), other); return err }(),
		func() error { _, err := w.db.PhotoSeen(t.Context(), other.ID, other.SentSHA256); return err }(),
	} {
		if f := fault.Of(err); f == nil || f.Kind != fault.Conflict || f.Code != store.OtherContent {
			t.Errorf("other bytes under its id: %v", err)
		}
	}
	list, err := w.db.TankPhotos(t.Context(), w.tank)
	if err != nil || len(list) != 1 {
		t.Fatal(list, err)
	}
	got := list[0]
	if got.Visit != p.Visit || got.VisitHere || got.Order != 3 || got.Width != 1600 || got.StaffName != "Maren Tolland" || !bytes.Equal(got.SHA256, p.SHA256) || !got.TakenAt.Equal(p.TakenAt) {
		t.Errorf("kept as %+v", got)
	}
	for small, want := range map[bool][]byte{false: p.Large, true: p.Small} {
		if file, err := w.db.PhotoPrint(t.Context(), p.ID, small); err != nil || !bytes.Equal(file, want) {
			t.Errorf("small is %v: %q, %v", small, file, err)
		}
	}
	p.ID, p.Tank = store.NewID(), store.NewID()
	if _, err := w.db.AddPhoto(t.Context(), p); !fault.Is(err, fault.NotFound) {
		t.Errorf("of no tank: %v", err)
	}
}

func TestPhotographsHaveLimits(t *testing.T) {
	w := newTankWorldWith(t, store.WithPhotoLimits(store.PhotoLimits{PerVisit: 2, PerDay: 4, Bytes: 5000}))
	visit := store.NewID()
	refused := func(p tank.Picture, code, says string) {
		t.Helper()
		_, err := w.db.AddPhoto(t.Context(), p)
		if f := fault.Of(err); f == nil || f.Kind != fault.Conflict || f.Code != code || !strings.Contains(f.Msg, says) {
			t.Errorf("%v, want %s", err, code)
		}
	}
	var first tank.Picture
	for i := range 2 {
		p := w.picture(t, tank.PhotoAfter, "2026-11-24 10:00")
		p.Visit = visit
		w.keep(t, p)
		if i == 0 {
			first = p
		}
	}
	third := w.picture(t, tank.PhotoAfter, "2026-11-24 10:00")
	third.Visit = visit
	refused(third, store.TooManyPhotos, "This visit has 2 photographs")
	if err := w.db.WithdrawPhoto(t.Context(), w.owner, true, first.ID, true); err != nil {
		t.Fatal(err)
	}
	w.keep(t, third) // there is a place again
	w.keep(t, w.picture(t, tank.PhotoCabinet, "2026-11-24 10:00"))
	refused(w.picture(t, tank.PhotoAfter, "2026-11-24 10:00"), store.TooManyPhotos, "This tank got 4 photographs")
	w.exec(t, `UPDATE photo SET received_at = received_at - interval '2 days'`)
	w.keep(t, w.picture(t, tank.PhotoAfter, "2026-11-24 10:00"))
	big := w.picture(t, tank.PhotoAfter, "2026-11-24 10:00")
	refused(big, store.NoRoom, "Tell the owner")
}

func (w tankWorld) exec(t *testing.T, sql string, args ...any) {
	t.Helper()
	if _, err := w.db.Pool().Exec(t.Context(), sql, args...); err != nil {
		t.Fatal(err)
	}
}

func TestTakingAPhotographBack(t *testing.T) {
	w := newTankWorld(t)
	p := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00")
	w.keep(t, p)
	stranger := store.NewID()
	if err := w.db.WithdrawPhoto(t.Context(), stranger, false, p.ID, true); !fault.Is(err, fault.Forbidden) {
		t.Errorf("somebody else's: %v", err)
	}
	if err := w.db.WithdrawPhoto(t.Context(), w.owner, false, p.ID, true); err != nil {
		t.Fatal("one's own: ", err)
	}
	if list, err := w.db.TankPhotos(t.Context(), w.tank); err != nil || len(list) != 0 {
		t.Errorf("still listed: %v, %v", list, err)
	}
	if _, err := w.db.PhotoPrint(t.Context(), p.ID, true); !fault.Is(err, fault.NotFound) {
		t.Errorf("still shown: %v", err)
	}
	if replay, err := w.db.AddPhoto(t.Context(), p); err != nil || !replay {
		t.Errorf("sent once more, it is made twice: %v, %v", replay, err)
	}
	if err := w.db.WithdrawPhoto(t.Context(), w.owner, false, p.ID, false); err != nil {
		t.Fatal(err)
	}
	if file, err := w.db.PhotoPrint(t.Context(), p.ID, false); err != nil || !bytes.Equal(file, p.Large) {
		t.Errorf("brought back: %v", err)
	}
	if err := w.db.WithdrawPhoto(t.Context(), w.owner, true, store.NewID(), true); !fault.Is(err, fault.NotFound) {
		t.Errorf("none: %v", err)
	}
}

// A photograph that arrives after its visit was moved to the right tank goes
// there too.
func TestAPhotographFollowsItsVisit(t *testing.T) {
	w := newTankWorld(t)
	visit, _ := w.visited(t, "")
	there := w.second(t).tank
	early, late := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00"), w.picture(t, tank.PhotoAfter, "2026-11-24 11:00")
	early.Visit, late.Visit = visit, visit
	w.keep(t, early)
	if err := w.db.MoveVisit(t.Context(), w.owner, visit, there, care.Assess); err != nil {
		t.Fatal(err)
	}
	w.keep(t, late)
	list, err := w.db.TankPhotos(t.Context(), there)
	if err != nil || len(list) != 2 || list[0].ID != late.ID || !list[0].VisitHere {
		t.Errorf("at the right tank: %+v, %v", list, err)
	}
}

func TestPrintsOnASheetAreFrozen(t *testing.T) {
	w := newTankWorld(t)
	visit, evaluation := w.visited(t, "")
	old, fresh := w.picture(t, tank.PhotoBefore, "2026-09-01 10:00"), w.picture(t, tank.PhotoAfter, "2026-11-24 11:00")
	harm, elsewhere := w.picture(t, tank.PhotoHarm, "2026-11-24 11:00"), w.picture(t, tank.PhotoAfter, "2026-11-24 11:00")
	elsewhere.Tank = w.second(t).tank
	for _, p := range []tank.Picture{old, fresh, harm, elsewhere} {
		w.keep(t, p)
	}
	release := share.Release{Visit: visit, Evaluation: evaluation, Document: "{}", Wire: "1", By: w.owner}
	for name, id := range map[string]string{"a death": harm.ID, "another tank's": elsewhere.ID, "none": store.NewID()} {
		release.Photos = []string{old.ID, id}
		if _, err := w.db.GiveSheet(t.Context(), release); !fault.Is(err, fault.Conflict) {
			t.Errorf("%s goes on a sheet: %v", name, err)
		}
	}
	release.Photos = []string{old.ID, fresh.ID}
	g, err := w.db.GiveSheet(t.Context(), release)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := w.db.GiveSheet(t.Context(), release); err != nil || again.ID != g.ID {
		t.Errorf("given twice: %v, %v", again, err)
	}
	prints, err := w.db.SheetPrints(t.Context(), g.ID)
	if err != nil || len(prints) != 2 || prints[0].Photo != old.ID || !bytes.Equal(prints[1].SHA256, fresh.SHA256) || prints[0].Gone {
		t.Errorf("on the sheet: %+v, %v", prints, err)
	}
	for _, sql := range []string{`UPDATE sheet_photo SET ord = ord + 5`, `DELETE FROM sheet_photo`} {
		if _, err := w.db.Pool().Exec(t.Context(), sql); err == nil {
			t.Errorf("%s was let through", sql)
		}
	}
	for id, want := range map[string]bool{old.ID: true, fresh.ID: true, harm.ID: false, elsewhere.ID: false, store.NewID(): false, "x": false} {
		if shared, err := w.db.PrintShared(t.Context(), w.tank, id); err != nil || shared != want {
			t.Errorf("%s shared: %v, %v", id, shared, err)
		}
	}
	if shared, _ := w.db.PrintShared(t.Context(), elsewhere.Tank, old.ID); shared {
		t.Error("another tank's link shows it")
	}
	if err := w.db.WithdrawPhoto(t.Context(), w.owner, true, old.ID, true); err != nil {
		t.Fatal(err)
	}
	if prints, err = w.db.SheetPrints(t.Context(), g.ID); err != nil || !prints[0].Gone || prints[1].Gone {
		t.Errorf("after one was taken back: %+v, %v", prints, err)
	}
	release.Photos = nil
	if plain, err := w.db.GiveSheet(t.Context(), release); err != nil || plain.Replaces != g.ID {
		t.Errorf("the same sheet without them is another one: %+v, %v", plain, err)
	}
}

func TestPhotographsComeBackFromABackup(t *testing.T) {
	w := newTankWorld(t)
	p := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00")
	p.Large = bytes.Repeat([]byte{0, 1, 2, 0xff, '\\', '\n', '\t'}, 300_000) // more than one part of the file
	w.keep(t, p)
	file := filepath.Join(t.TempDir(), "shop.backup")
	if _, err := w.db.BackupFile(t.Context(), file, nil); err != nil {
		t.Fatal(err)
	}
	to, err := store.Open(t.Context(), storetest.EmptyURL(t))
	if err != nil {
		t.Fatal(err)
	}
	defer to.Close()
	if _, err := to.RestoreFile(t.Context(), file, nil); err != nil {
		t.Fatal(err)
	}
	if got, err := to.PhotoPrint(t.Context(), p.ID, false); err != nil || !bytes.Equal(got, p.Large) {
		t.Errorf("%d bytes came back of %d, %v", len(got), len(p.Large), err)
	}
}

func TestErasingACustomerErasesTheirPhotographs(t *testing.T) {
	p := newPlaces(t)
	nora, pim := p.customer("Nora Quill"), p.customer("Pim Sallow")
	hers, his := p.site(nora, "Quill house", "4 Weir Lane", "Alderbrook"), p.site(pim, "Sallow house", "5 Weir Lane", "Alderbrook")
	stays, moved := p.tank(hers, "River"), p.tank(hers, "Pool")
	w := tankWorld{db: p.DB, owner: p.owner}
	now := p.Now()
	keep := func(tankID string) string {
		t.Helper()
		pic := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00")
		pic.Tank, pic.TakenAt = tankID, now
		w.keep(t, pic)
		return pic.ID
	}
	gone := []string{keep(stays), keep(moved)}
	p.exec(`INSERT INTO tank_site (tank, site, since) VALUES ($1, $2, $3)`, moved, his, now.Add(time.Hour))
	p.exec(`UPDATE photo SET taken_at = taken_at - interval '1 hour', received_at = received_at - interval '1 hour'`)
	kept := keep(moved)
	p.exec(`UPDATE photo SET taken_at = $2, received_at = $2 WHERE id = $1`, kept, now.Add(2*time.Hour))
	if err := p.EraseCustomer(t.Context(), p.owner, nora); err != nil {
		t.Fatal(err)
	}
	for _, id := range gone {
		if _, err := p.PhotoPrint(t.Context(), id, false); !fault.Is(err, fault.NotFound) {
			t.Errorf("still shown: %v", err)
		}
		var left int
		if err := p.Pool().QueryRow(t.Context(), `SELECT octet_length(bytes) + octet_length(small) FROM photo WHERE id = $1`, id).Scan(&left); err != nil || left != 0 {
			t.Errorf("%d bytes are left, %v", left, err)
		}
		if err := p.WithdrawPhoto(t.Context(), p.owner, true, id, false); !fault.Is(err, fault.NotFound) {
			t.Errorf("brought back: %v", err)
		}
	}
	if file, err := p.PhotoPrint(t.Context(), kept, false); err != nil || len(file) == 0 {
		t.Errorf("the next home's photograph: %v", err)
	}
	late := w.picture(t, tank.PhotoBefore, "2026-11-24 10:00")
	late.Tank = stays
	if _, err := p.AddPhoto(t.Context(), late); fault.Of(err) == nil || fault.Of(err).Code != store.OfErased {
		t.Errorf("one that arrives afterwards: %v", err)
	}
}
