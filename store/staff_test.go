package store_test

import (
	"context"
	"sync"
	"testing"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/store/storetest"
)

var fernweir = shop.Settings{Name: "Fernweir Aquascapes", Zone: "Europe/Dublin", Locale: "en-IE", Units: say.Metric, Paper: shop.A4}

func addOwner(t *testing.T, db *store.DB, name, email string) staff.Person {
	t.Helper()
	p, err := db.AddPerson(t.Context(), "", staff.Draft{Name: name, Email: email, Role: staff.Owner}, "no hash")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestAddressIsUniqueWhateverItsCase(t *testing.T) {
	db := storetest.New(t)
	addOwner(t, db, "Maren Tolland", "Maren@fernweir.example")
	_, err := db.AddPerson(t.Context(), "", staff.Draft{Name: "Other", Email: "mAREN@Fernweir.example", Role: staff.Technician}, "no hash")
	f := fault.Of(err)
	if f == nil || f.Kind != fault.Invalid || len(f.Fields.On("email")) != 1 {
		t.Fatalf("err = %v", err)
	}
	p, hash, err := db.PersonByEmail(t.Context(), " maren@FERNWEIR.example ")
	if err != nil || p.Name != "Maren Tolland" || hash != "no hash" {
		t.Errorf("%+v, %q, %v", p, hash, err)
	}
}

// Each of two owners deactivates the other at the same moment: one of them must
// be refused, whoever comes second.
func TestTwoOwnersCannotShutEachOtherOut(t *testing.T) {
	db := storetest.New(t)
	a, b := addOwner(t, db, "Maren Tolland", "maren@fernweir.example"), addOwner(t, db, "Bea Okafor-Lind", "bea@fernweir.example")
	for range 5 {
		var wait sync.WaitGroup
		errs := make([]error, 2)
		for i, pair := range [][2]string{{a.ID, b.ID}, {b.ID, a.ID}} {
			wait.Go(func() { _, errs[i] = db.SetActive(context.WithoutCancel(t.Context()), pair[0], pair[1], false) })
		}
		wait.Wait()
		if (errs[0] == nil) == (errs[1] == nil) {
			t.Fatalf("errors %v and %v: exactly one must be refused", errs[0], errs[1])
		}
		for _, p := range []staff.Person{a, b} {
			if _, err := db.SetActive(t.Context(), "", p.ID, true); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestOneOfTwoFirstStartsWins(t *testing.T) {
	db := storetest.New(t)
	token, err := db.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var wait sync.WaitGroup
	errs := make([]error, 4)
	for i := range errs {
		wait.Go(func() {
			d := staff.Draft{Name: "Maren Tolland", Email: string(rune('a'+i)) + "@fernweir.example"}
			_, errs[i] = db.FirstStart(context.WithoutCancel(t.Context()), token, fernweir, d, "no hash")
		})
	}
	wait.Wait()
	won := 0
	for _, err := range errs {
		if err == nil {
			won++
		} else if k := fault.Of(err).Kind; k != fault.Conflict && k != fault.NotFound {
			t.Errorf("err = %v", err)
		}
	}
	people, err := db.People(t.Context())
	if won != 1 || err != nil || len(people) != 1 || people[0].Role != staff.Owner {
		t.Errorf("%d won, people %+v, %v", won, people, err)
	}
}

func TestOneInviteMakesOneAccount(t *testing.T) {
	db := storetest.New(t)
	o := addOwner(t, db, "Maren Tolland", "maren@fernweir.example")
	token, made, err := db.InvitePerson(t.Context(), o.ID, "Ilo Vance", staff.Technician)
	if err != nil {
		t.Fatal(err)
	}
	if i, first, err := db.InviteByToken(t.Context(), token); err != nil || first || i.ID != made.ID || i.Role != staff.Technician {
		t.Errorf("%+v, %v, %v", i, first, err)
	}
	var wait sync.WaitGroup
	errs := make([]error, 4)
	for i := range errs {
		wait.Go(func() {
			// Who accepts may ask for any role; the owner's choice counts.
			d := staff.Draft{Name: "Ilo Vance", Email: string(rune('a'+i)) + "@fernweir.example", Role: staff.Owner}
			_, errs[i] = db.AcceptInvite(context.WithoutCancel(t.Context()), token, d, "no hash")
		})
	}
	wait.Wait()
	won := 0
	for _, err := range errs {
		if err == nil {
			won++
		} else if !fault.Is(err, fault.NotFound) {
			t.Errorf("err = %v", err)
		}
	}
	people, err := db.People(t.Context())
	if won != 1 || err != nil || len(people) != 2 || people[0].Role == people[1].Role {
		t.Errorf("%d won, people %+v, %v", won, people, err)
	}
	var kept int
	if err := db.Pool().QueryRow(t.Context(), `SELECT count(*) FROM invite WHERE encode(token_sha256, 'escape') LIKE '%' || $1 || '%'`, token).Scan(&kept); err != nil || kept != 0 {
		t.Errorf("the token is kept: %d, %v", kept, err)
	}
}

func TestSignInKnowsPersonAndShopAndEnds(t *testing.T) {
	db := storetest.New(t)
	o := addOwner(t, db, "Maren Tolland", "maren@fernweir.example")
	if err := db.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error { return tx.MakeShop(ctx, fernweir) }); err != nil {
		t.Fatal(err)
	}
	id, err := db.BeginSignIn(t.Context(), o.ID, "a browser\x00 that lies\xff "+string(make([]byte, 500)))
	if err != nil {
		t.Fatal(err)
	}
	in, err := db.SignedIn(t.Context(), id)
	if err != nil || in.Person != o || in.Shop.Zone != "Europe/Dublin" {
		t.Errorf("%+v, %v", in, err)
	}
	if err := db.EndSignIn(t.Context(), id); err != nil {
		t.Fatal(err)
	}
	for _, gone := range []string{id, store.NewID(), "x", ""} {
		if _, err := db.SignedIn(t.Context(), gone); !fault.Is(err, fault.NotFound) {
			t.Errorf("%q: %v", gone, err)
		}
	}
}

func TestWhatIsChangedIsRecordedWithoutSecrets(t *testing.T) {
	db := storetest.New(t)
	o := addOwner(t, db, "Maren Tolland", "maren@fernweir.example")
	ilo, err := db.AddPerson(t.Context(), o.ID, staff.Draft{Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Technician}, "a hash that must not be seen")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ChangePerson(t.Context(), o.ID, ilo.ID, ilo.Version, staff.Draft{Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Owner}); err != nil {
		t.Fatal(err)
	}
	if _, err := db.SetPassword(t.Context(), o.ID, ilo.ID, "another hash that must not be seen"); err != nil {
		t.Fatal(err)
	}
	var lines, secrets, roles int
	err = db.Pool().QueryRow(t.Context(), `
		SELECT count(*), count(*) FILTER (WHERE coalesce(before::text, '') || coalesce(after::text, '') LIKE '%hash%'),
			count(*) FILTER (WHERE before->>'role' = 'technician' AND after->>'role' = 'owner' AND staff = $2)
		FROM audit WHERE noun_id = $1`, ilo.ID, o.ID).Scan(&lines, &secrets, &roles)
	if err != nil || lines != 3 || secrets != 0 || roles != 1 {
		t.Errorf("%d lines, %d with secrets, %d of the role, %v", lines, secrets, roles, err)
	}
}
