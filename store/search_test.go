package store_test

import (
	"fmt"
	"slices"
	"testing"

	"scaperound/domain/customer"
	"scaperound/store"
	"scaperound/store/storetest"
)

func TestListsAreSortedAndPaged(t *testing.T) {
	p := newPlaces(t)
	towns := map[string]string{"Éilis": "Saltgate", "adam": "Órla Bridge", "Zoë": ""}
	for name, town := range towns {
		p.tank(p.site(p.customer(name), name+"'s", "", town), "Tank of "+name)
	}
	for sort, want := range map[string][]string{
		"name": {"adam", "Éilis", "Zoë"}, "town": {"adam", "Éilis", "Zoë"}, "nonsense; DROP TABLE site": {"adam", "Éilis", "Zoë"},
	} {
		lines, total, err := p.Customers(t.Context(), customer.List{Sort: sort})
		if err != nil || total != 3 {
			t.Fatalf("%d in all, %v", total, err)
		}
		var got []string
		for _, l := range lines {
			got = append(got, l.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("by %s: %q, want %q", sort, got, want)
		}
	}
	lines, _, _ := p.Customers(t.Context(), customer.List{})
	if l := lines[0]; l.Sites != 1 || l.Tanks != 1 || !slices.Equal(l.Towns, []string{"Órla Bridge"}) || l.LastVisit.OK {
		t.Errorf("line %+v", l)
	}
	for _, sort := range customer.SiteSorts() {
		if lines, total, err := p.Sites(t.Context(), customer.List{Sort: sort}, weirDay); err != nil || total != 3 || lines[0].Name != "adam's" || lines[0].Tanks != 1 {
			t.Errorf("by %s: %+v of %d, %v", sort, lines, total, err)
		}
	}
	for i := range customer.PerPage {
		p.customer(fmt.Sprintf("Mill %d", i+1))
	}
	lines, total, err := p.Customers(t.Context(), customer.List{Page: 2})
	if err != nil || total != 53 || len(lines) != 3 || lines[0].Name != "Mill 49" {
		t.Errorf("second page: %d lines of %d from %q, %v", len(lines), total, lines[0].Name, err)
	}
}

func TestSearch(t *testing.T) {
	p := newPlaces(t)
	nora := p.customer("Nóra Quill", "+353 1 555 0142")
	cafe := p.site(nora, "The café with the big wood", "4 Weir Lane", "Alderbrook")
	river := p.tank(cafe, "River bend")
	pim := p.customer("Pim Sallow", "01 555 0777")
	mill := p.site(pim, "Copper Hill house", "12 Mill Street", "Copper Hill")
	p.tank(mill, "Nano cube")
	norman := p.customer("Norman Reed")

	for typed, want := range map[string][]string{
		"nor":                        {norman, nora}, // three letters, by the order of names
		"NÓRA":                       {nora},
		"quill":                      {nora},
		"the cafe with the big wood": {nora},
		"café, big wood!":            {nora},
		"wood big":                   {nora},
		"weir lane":                  {nora},
		"nora weir":                  {nora},
		"12 mill":                    {pim},
		"01 555 0142":                {nora},
		"00353 1 5550142":            {nora},
		"5550777":                    {pim},
		"555":                        {nora, pim},
		"alderbrook pim":             nil,
		"100%":                       nil,
		"_":                          nil,
		"'; DROP TABLE customer; --": nil,
		"":                           nil,
		"   ":                        nil,
	} {
		found, err := p.Search(t.Context(), typed)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, c := range found.Customers {
			got = append(got, c.ID)
		}
		if typed == "nor" {
			slices.Sort(got)
			slices.Sort(want)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q finds %+v, want %d", typed, found.Customers, len(want))
		}
	}
	found, _ := p.Search(t.Context(), "riv")
	if len(found.Tanks) != 1 || found.Tanks[0].ID != river || found.Tanks[0].SiteName != "The café with the big wood" || found.Tanks[0].Customer != "Nóra Quill" {
		t.Errorf("tanks by three letters: %+v", found.Tanks)
	}
	if found, _ = p.Search(t.Context(), "nano pim"); len(found.Tanks) != 1 {
		t.Errorf("a tank and whose it is: %+v", found.Tanks)
	}
	for _, whose := range []string{"quill", "weir lane", "5550142"} {
		if found, _ = p.Search(t.Context(), whose); len(found.Tanks) != 1 || found.Tanks[0].ID != river {
			t.Errorf("the tank of %s: %+v", whose, found.Tanks)
		}
	}
	if err := p.ArchiveCustomer(t.Context(), p.owner, norman, true); err != nil {
		t.Fatal(err)
	}
	if found, _ = p.Search(t.Context(), "nor"); len(found.Customers) != 2 || found.Customers[1].ID != norman || !found.Customers[1].Archived {
		t.Errorf("what is archived comes last and says so: %+v", found.Customers)
	}
}

// BenchmarkSearch looks for three letters among two thousand customers.
func BenchmarkSearch(b *testing.B) {
	p := benchPlaces(b)
	for b.Loop() {
		if _, err := p.Search(b.Context(), "mil"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCustomers lists the first page of two thousand customers.
func BenchmarkCustomers(b *testing.B) {
	p := benchPlaces(b)
	for b.Loop() {
		if _, _, err := p.Customers(b.Context(), customer.List{Sort: "visit"}); err != nil {
			b.Fatal(err)
		}
	}
}

func benchPlaces(b *testing.B) *store.DB {
	db := storetest.New(b)
	const sql = `WITH c AS (INSERT INTO customer (id, name, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), 'Customer ' || n, 'customer ' || n || ' 3531555' || n, lpad(n::text, 6, '0'), now(), now() FROM generate_series(1, 2000) n RETURNING id, search),
		s AS (INSERT INTO site (id, customer, name, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), id, 'Mill', 'mill ' || search, search, now(), now() FROM c RETURNING id, search),
		t AS (INSERT INTO tank (id, name, state, search, sort_key, created_at, updated_at)
			SELECT gen_random_uuid(), 'Tank', 'running', 'mill tank ' || n, lpad(n::text, 6, '0'), now(), now() FROM generate_series(1, 4000) n RETURNING id)
		INSERT INTO tank_site (tank, site, since)
			SELECT t.id, s.id, now() - interval '1 day' FROM (SELECT id, row_number() OVER () AS n FROM t) t JOIN (SELECT id, row_number() OVER () AS n FROM s) s ON s.n = t.n / 2 + 1`
	for _, sql := range []string{sql, `ANALYZE`} {
		if _, err := db.Pool().Exec(b.Context(), sql); err != nil {
			b.Fatal(err)
		}
	}
	return db
}
