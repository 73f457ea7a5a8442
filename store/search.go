package store

import (
	"context"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
)

// foundMost is how many rows of each kind a search shows.
const foundMost = 40

// little words that people say and records do not hold.
var littleWords = []string{"the", "a", "an", "with", "of", "at", "in", "on", "and", "by", "who", "that", "from", "near"}

// searchWords are the folded words to look for. Little words count only where
// there are no others.
func searchWords(typed string) []string {
	words := strings.Fields(Fold(typed))
	big := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(littleWords, w) })
	if len(big) == 0 {
		return words
	}
	return big
}

// Search finds customers, their sites and the tanks in which every word of what
// was typed occurs, in any order and in any part: three letters do. Digits also
// find telephone numbers, however either is written. An empty text finds nothing.
func (db *DB) Search(ctx context.Context, typed string) (customer.Found, error) {
	var found customer.Found
	words := searchWords(typed)
	if len(words) == 0 {
		return found, nil
	}
	digits, phone := customer.PhoneQuery(typed)
	if !phone {
		digits = ""
	}
	err := db.Snapshot(ctx, func(ctx context.Context, tx Tx) (err error) {
		rows, err := tx.Query(ctx, findPeople, words, digits, foundMost+1)
		hits, err := collect(rows, err, scanHit)
		if err != nil {
			return err
		}
		if len(hits) > foundMost {
			hits, found.More = hits[:foundMost], true
		}
		found.Customers = groupHits(hits)
		rows, err = tx.Query(ctx, findTanks, words, tx.Now, foundMost+1, digits)
		found.Tanks, err = collect(rows, err, scanFoundTank)
		if len(found.Tanks) > foundMost {
			found.Tanks, found.More = found.Tanks[:foundMost], true
		}
		return err
	})
	return found, err
}

// A word that begins one counts more than a part within one; what is archived
// comes last.
const findPeople = `
	SELECT c.id, c.name, c.phones, c.archived_at IS NOT NULL, coalesce(s.id::text, ''), coalesce(s.name, ''), coalesce(s.address, ''), coalesce(s.town, ''), s.archived_at IS NOT NULL
	FROM customer c LEFT JOIN site s ON s.customer = c.id
	CROSS JOIN LATERAL (SELECT ' ' || c.search || ' ' || coalesce(s.search, '') AS all_words) x
	WHERE c.erased_at IS NULL AND (NOT EXISTS (SELECT FROM unnest($1::text[]) w WHERE strpos(x.all_words, w) = 0) OR $2 <> '' AND strpos(c.search, $2) > 0)
	ORDER BY c.archived_at IS NOT NULL OR s.archived_at IS NOT NULL,
		EXISTS (SELECT FROM unnest($1::text[]) w WHERE strpos(x.all_words, ' ' || w) = 0),
		c.sort_key COLLATE "C", c.id, s.sort_key COLLATE "C", s.id
	LIMIT $3`

// A tank is found by its own words and by those that say where it stands and
// whose it is; its own count most.
const findTanks = `
	WITH home AS (SELECT DISTINCT ON (tank) tank, site FROM tank_site WHERE since <= $2 ORDER BY tank, since DESC)
	SELECT t.id, t.name, t.state, coalesce(s.id::text, ''), coalesce(s.name, ''), coalesce(c.name, '')
	FROM tank t LEFT JOIN home ON home.tank = t.id LEFT JOIN site s ON s.id = home.site LEFT JOIN customer c ON c.id = s.customer
	CROSS JOIN LATERAL (SELECT ' ' || t.search || ' ' || coalesce(s.search, '') || ' ' || coalesce(c.search, '') AS all_words) x
	WHERE c.erased_at IS NULL AND (NOT EXISTS (SELECT FROM unnest($1::text[]) w WHERE strpos(x.all_words, w) = 0) OR $4 <> '' AND strpos(c.search, $4) > 0)
	ORDER BY t.state = 'ended', NOT EXISTS (SELECT FROM unnest($1::text[]) w WHERE strpos(t.search, w) > 0),
		EXISTS (SELECT FROM unnest($1::text[]) w WHERE strpos(x.all_words, ' ' || w) = 0), t.sort_key COLLATE "C", t.id
	LIMIT $3`

type hit struct {
	customer customer.FoundCustomer
	site     customer.FoundSite // its ID is empty for a customer without sites
}

func scanHit(row pgx.Row) (h hit, err error) {
	c, s := &h.customer, &h.site
	err = row.Scan(&c.ID, &c.Name, &c.Phones, &c.Archived, &s.ID, &s.Name, &s.Address, &s.Town, &s.Archived)
	return h, asFault(err)
}

// groupHits puts the sites of one customer together, in the order of the best.
func groupHits(hits []hit) []customer.FoundCustomer {
	var out []customer.FoundCustomer
	at := map[string]int{}
	for _, h := range hits {
		i, seen := at[h.customer.ID]
		if !seen {
			i = len(out)
			at[h.customer.ID] = i
			out = append(out, h.customer)
		}
		if h.site.ID != "" {
			out[i].Sites = append(out[i].Sites, h.site)
		}
	}
	return out
}

func scanFoundTank(row pgx.Row) (t customer.FoundTank, err error) {
	err = row.Scan(&t.ID, &t.Name, &t.State, &t.Site, &t.SiteName, &t.Customer)
	return t, asFault(err)
}
