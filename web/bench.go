package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"time"
	"unicode/utf8"

	"scaperound/domain/calc"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/static"
	"scaperound/web/view"
)

// benchStore is what the bench asks for: the tank from which numbers are filled in.
type benchStore interface {
	TankCard(ctx context.Context, id string) (tank.Card, error)
	TankAt(ctx context.Context, id string, at time.Time) (tank.Setup, tank.Profile, tank.Plan, error)
	LastReadings(ctx context.Context, id string) ([]tank.LastReading, error)
}

// benchPages are the shop's calculations.
type benchPages struct {
	*shell
	store benchStore
}

// benchPath is the page of a calculation with a query, which may be empty.
func benchPath(name string, query url.Values) string {
	path := "/bench/" + url.PathEscape(name)
	if len(query) > 0 {
		path += "?" + query.Encode()
	}
	return path
}

// list is the bench itself: what is used every day, then all by field of science;
// or what was looked for.
func (p benchPages) list(w http.ResponseWriter, r *http.Request) error {
	t, err := p.tankOf(r)
	if err != nil {
		return err
	}
	text := strings.TrimSpace(strings.ToValidUTF8(strings.ReplaceAll(r.URL.Query().Get("q"), "\x00", ""), ""))
	if utf8.RuneCountInString(text) > longestSearch {
		text = string([]rune(text)[:longestSearch])
	}
	body := view.Bench{Text: text, Tank: t.shown("/bench")}
	units := reads(r)
	row := func(d *calc.Def) view.BenchRow {
		query := url.Values{}
		if t != nil {
			query.Set("tank", t.id)
		}
		return view.BenchRow{Title: d.Title, Href: benchPath(d.Name, query)}
	}
	if text != "" {
		found, all := calc.Search(text)
		body.Nearly = !all
		for _, d := range found {
			line := row(d)
			line.Quiet = d.Topic.Title()
			body.Found = append(body.Found, line)
		}
	} else {
		body.Daily, body.Fields = benchFields(row, units)
	}
	if wantsJSON(r) {
		return p.json(w, r, http.StatusOK, body)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Bench", Lead: "The shop’s calculations, each with its working and its source.", Styles: []string{static.Path("bench.css")}}, view.BenchBody(body))
}

// benchFields are all calculations: those of every day with what they say, then the
// rest by field.
func benchFields(row func(*calc.Def) view.BenchRow, units say.Units) (daily []view.BenchRow, fields []view.BenchField) {
	for _, d := range calc.Daily() {
		line := row(d)
		line.Quiet = exampleText(d, units)
		daily = append(daily, line)
	}
	all := calc.All()
	for _, topic := range calc.Topics() {
		f := view.BenchField{Title: topic.Title()}
		for i := range all {
			if all[i].Topic == topic {
				f.Rows = append(f.Rows, row(&all[i]))
			}
		}
		fields = append(fields, f)
	}
	return daily, fields
}

// exampleText is a calculation as said with its example.
func exampleText(d *calc.Def, units say.Units) string {
	raw := d.Example()
	a, err := d.Run(raw)
	if err != nil {
		return ""
	}
	shown := answerOf(d, raw, a, units)
	return shown.Said + " " + strings.TrimSpace(shown.Figure+" "+shown.Unit)
}
