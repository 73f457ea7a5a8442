package browser

import (
	"context"
	"net/http"
	"testing"

	"github.com/jackc/pgx/v5"
)

// TestSheetsOnPaper prints the newest sheet of every tank of the made-up shop:
// one page for an ordinary tank, two at most.
func TestSheetsOnPaper(t *testing.T) {
	d := shop(t)
	rows, err := d.DB.Pool().Query(context.Background(), `
		SELECT tank.name, sheet.visit::text FROM tank JOIN LATERAL (SELECT visit FROM sheet WHERE tank = tank.id ORDER BY given_at DESC LIMIT 1) AS sheet ON true ORDER BY tank.name`)
	if err != nil {
		t.Fatal(err)
	}
	type given struct{ Tank, Visit string }
	sheets, err := pgx.CollectRows(rows, pgx.RowToStructByPos[given])
	if err != nil {
		t.Fatal(err)
	}
	b := d.signedIn(t, d.Owner, Lying)
	two := 0
	for _, s := range sheets {
		if status := b.Go("/visits/" + s.Visit + "/sheet/print"); status != http.StatusOK {
			t.Fatalf("%s: the sheet answers %d", s.Tank, status)
		}
		for _, on := range []Paper{A4, Letter} {
			n := Pages(b.Print(on))
			if n < 1 || n > 2 {
				t.Errorf("%s on %s: %d pages, two at most", s.Tank, on.Name, n)
			}
			if n > 1 {
				two++
				t.Logf("%s on %s: %d pages", s.Tank, on.Name, n)
			}
		}
	}
	t.Logf("%d sheets, %d of their prints on more than one page", len(sheets), two)
	if two*5 > len(sheets)*2 {
		t.Errorf("%d of %d prints need a second page: an ordinary tank should need one", two, len(sheets)*2)
	}
	if n := Pages(b.printed(t, d.Link)); n != 1 {
		t.Errorf("the sheet that the demo shows is printed on %d pages, not on one", n)
	}
}

func (b *Tab) printed(t testing.TB, path string) []byte {
	t.Helper()
	if status := b.Go(path); status != http.StatusOK {
		t.Fatalf("%s answers %d", path, status)
	}
	return b.Print(A4)
}
