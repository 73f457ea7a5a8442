package web

import (
	"cmp"
	"context"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	q "scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// changeStore reads who changed what.
type changeStore interface {
	// Changes lists the newest first, and whether there is more.
	Changes(ctx context.Context, f staff.ChangeFilter) ([]staff.Change, bool, error)
	ChangedNouns(ctx context.Context) ([]string, error)
	// Things finds what ids stand for, as a person calls it.
	Things(ctx context.Context, ids []string) (map[string]staff.Thing, error)
}

type changePages struct {
	*shell
	store  changeStore
	people peopleStore
}

// changesPerPage is how many changes a page lists.
const changesPerPage = 50

// nounPaths are the pages of what can be changed; {} stands for its id.
var nounPaths = map[string]string{
	"customer": "/customers/{}", "site": "/sites/{}", "tank": "/tanks/{}", "visit": "/visits/{}", "problem": "/problems/{}", "profile": "/profiles/{}",
	"source": "/sources/{}", "source water": "/sources/{}", "kit": "/kits/{}", "key": "/keys/{}", "absence": "/away/{}", "task": "/tasks/{}", "call for help": "/trouble/{}", "stop": "/stops/{}",
	"extra visit": "/visits/{}/extra", "staff": "/people/{}", "person": "/people/{}",
	"kit lot": "/kits/{}", "death": "/tanks/{}/deaths", "filter stop": "/tanks/{}/stopped", "incident": "/sites/{}/incidents", "contact note": "/customers/{}",
	"access note": "/sites/{}", "sheet": "/visits/{}/sheet", "link": "/tanks/{}", "photograph": "/tanks/{}/photos",
}

// verbWords are the verbs of the record that are no words for what was done.
var verbWords = map[string]string{"give": "given", "reopen": "opened again", "renew": "made anew", "end": "ended", "answer": "answered", "packets": "packets settled", "gear": "gear tended", "dosing": "dosing changed",
	"state": "state changed", "target profile": "target profile changed", "source water": "source water changed", "shared care": "shared care changed", "set up": "set-up written down"}

// list is what changed and by whom, filtered by person, thing and day.
func (p changePages) list(w http.ResponseWriter, r *http.Request) error {
	query := r.URL.Query()
	f := staff.ChangeFilter{Person: query.Get("person"), Noun: query.Get("noun"), NounID: query.Get("id"), Most: changesPerPage}
	f.Before, _ = strconv.ParseInt(query.Get("before"), 10, 64)
	f.Before = max(f.Before, 0)
	day, dayOK := q.ParseDate(query.Get("day"))
	if dayOK {
		zone := local(r).Zone
		f.From, f.To = q.Some(wall(zone, day, 0)), q.Some(wall(zone, day.Add(1), 0))
	}
	list, more, err := p.store.Changes(r.Context(), f)
	if err != nil {
		return err
	}
	nouns, err := p.store.ChangedNouns(r.Context())
	if err != nil {
		return err
	}
	people, err := p.people.People(r.Context())
	if err != nil {
		return err
	}
	body := view.Changes{Person: f.Person, Noun: f.Noun, People: []view.Option{{Label: "Anybody"}}, Nouns: []view.Option{{Label: "Anything"}}, Filtered: f.Person != "" || f.Noun != "" || f.NounID != "" || dayOK}
	if dayOK {
		body.Day = day.String()
	}
	for _, x := range people {
		body.People = append(body.People, view.Option{Value: x.ID, Label: x.Name})
	}
	for _, n := range nouns {
		body.Nouns = append(body.Nouns, view.Option{Value: n, Label: upperFirst(n)})
	}
	things, err := p.store.Things(r.Context(), idsIn(list))
	if err != nil {
		return err
	}
	for _, c := range list {
		body.Rows = append(body.Rows, p.row(c, things, local(r)))
	}
	if more {
		next := url.Values{"before": {strconv.FormatInt(list[len(list)-1].ID, 10)}}
		for _, name := range []string{"person", "noun", "id", "day"} {
			if v := query.Get(name); v != "" {
				next.Set(name, v)
			}
		}
		body.Older = "/changes?" + next.Encode()
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "What changed and by whom", Up: &view.Link{Label: "Shop", Href: "/shop"}}, view.ChangesBody(body))
}

// idLength is that of a key as text.
const idLength = 36

// anID finds keys in what was written down, also within a longer text.
var anID = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}`)

// aCode is a word of the program's own, such as we_added.
var aCode = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)+$`)

// idsIn are the ids that changes are about or name among their values, each once.
func idsIn(list []staff.Change) []string {
	seen, out := map[string]bool{}, []string(nil)
	add := func(text string) {
		for _, id := range anID.FindAllString(text, -1) {
			if !seen[id] {
				seen[id], out = true, append(out, id)
			}
		}
	}
	for _, c := range list {
		add(c.NounID)
		for _, x := range c.Was {
			add(x.Text)
		}
		for _, x := range c.Now {
			add(x.Text)
		}
	}
	return out
}

// thingText is what a thing is called, with its day where it has one.
func thingText(t staff.Thing, when view.Local) string {
	switch {
	case t.At.OK:
		return t.Name + ", " + when.DayOf(t.At.V)
	case t.Day.OK:
		return t.Name + ", from " + when.Day(t.Day.V)
	}
	return t.Name
}

func (p changePages) row(c staff.Change, things map[string]staff.Thing, when view.Local) view.ChangeRow {
	text := func(s string) string { return changedText(s, things, when) }
	row := view.ChangeRow{When: when.DayClock(c.At), Who: c.By, What: upperFirst(c.Noun) + ": " + cmp.Or(verbWords[c.Verb], c.Verb)}
	if row.Who == "" {
		row.Who = "the program"
	}
	if day, isDay := q.ParseDate(c.NounID); isDay {
		row.Name = when.Day(day)
	}
	id := c.NounID
	if t, known := things[id]; known {
		id, row.Name = t.ID, thingText(t, when)
	}
	if path := nounPaths[c.Noun]; path != "" && len(id) == idLength {
		row.Href = strings.ReplaceAll(path, "{}", id)
	}
	was := map[string]string{}
	for _, x := range c.Was {
		was[x.Name] = x.Text
	}
	for _, x := range c.Now {
		f := view.ChangeFact{Name: plainName(x.Name), Now: text(x.Text), Was: text(was[x.Name])}
		delete(was, x.Name)
		// What is empty and was empty, or a key that has no name, says nothing.
		if f.Now != "" || f.Was != "" {
			row.Facts = append(row.Facts, f)
		}
	}
	for _, x := range c.Was {
		if _, gone := was[x.Name]; gone && text(x.Text) != "" {
			row.Facts = append(row.Facts, view.ChangeFact{Name: plainName(x.Name), Now: "–", Was: text(x.Text)})
		}
	}
	return row
}

// changedText is a value as a person reads it: days and moments by the shop's
// calendar, and things by their names. What has no name is left out.
func changedText(s string, things map[string]staff.Thing, when view.Local) string {
	if day, isDay := q.ParseDate(s); isDay && len(s) == len("2026-11-24") {
		return when.Day(day)
	}
	if at, err := time.Parse(time.RFC3339Nano, s); err == nil {
		return when.DayClock(at)
	}
	if aCode.MatchString(s) {
		return strings.ReplaceAll(s, "_", " ")
	}
	named := anID.ReplaceAllStringFunc(s, func(id string) string {
		if t, known := things[id]; known {
			return thingText(t, when)
		}
		if len(s) == idLength {
			return ""
		}
		return "…"
	})
	return shortText(named)
}

// plainName turns a name of the record into words: Is.EveryDays, spending_limit.
func plainName(s string) string {
	s = strings.TrimPrefix(strings.TrimPrefix(s, "Is."), "is.")
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == '_' || r == '.':
			b.WriteByte(' ')
		case r >= 'A' && r <= 'Z' && i > 0 && s[i-1] >= 'a' && s[i-1] <= 'z':
			b.WriteByte(' ')
			b.WriteRune(r + 'a' - 'A')
		default:
			b.WriteRune(r)
		}
	}
	return upperFirst(strings.ToLower(b.String()))
}

// shortText keeps a list of changes readable.
func shortText(s string) string {
	if r := []rune(s); len(r) > 300 {
		return string(r[:300]) + "…"
	}
	return s
}

func upperFirst(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
