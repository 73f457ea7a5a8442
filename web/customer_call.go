package web

import (
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
	"scaperound/web/view"
)

// notesInAll is the most notes that the page of all that was said shows.
const notesInAll = 500

func (p customerPages) call(w http.ResponseWriter, r *http.Request) error {
	call, err := p.store.CustomerCall(r.Context(), r.PathValue("customer"), p.today(r))
	if err != nil {
		return err
	}
	frame, body := p.drawCall(r, call)(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p customerPages) drawCall(r *http.Request, call customer.Call) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		c, path, when := call.Customer, customerPath(call.Customer.ID), local(r)
		body := view.CustomerCall{
			Name: c.Name, Email: c.Email, Notes: c.Notes, Erased: c.ErasedAt.OK, Archived: c.ArchivedAt.OK && !c.ErasedAt.OK,
			Form: f, NoteAction: path + "/notes", NoteID: call.NoteID,
			Edit: view.Link{Label: "Change what is kept", Href: path + "/edit"}, AddSite: view.Link{Label: "Add a site", Href: path + "/sites/new"},
			BringBack: view.Post{Label: "Bring back", Action: path + "/bring-back"},
			Standing:  p.standing(r, call),
			Tanks:     tankRows(r, p.today(r), call.Tanks, len(call.Sites) > 1, false),
			Said:      noteRows(when, call.Notes),
		}
		if id := f.Values.Get("id"); id != "" {
			body.NoteID = id
		}
		if call.MoreNotes {
			body.Older = &view.Link{Label: "All that was said", Href: path + "/notes"}
		}
		if alive := troubleTanks(call.Tanks); len(alive) == 1 {
			body.Trouble = []view.Link{{Label: "Trouble", Href: troublePath(alive[0].ID)}}
		} else {
			for _, t := range alive {
				body.Trouble = append(body.Trouble, view.Link{Label: "Trouble: " + t.Name, Href: troublePath(t.ID)})
			}
		}
		for _, phone := range c.Phones {
			body.Phones = append(body.Phones, view.Phone{Text: phone, Number: dial(phone)})
		}
		for _, s := range call.Sites {
			body.Sites = append(body.Sites, view.SiteRow{Name: s.Name, Href: sitePath(s.ID), Where: joined(", ", s.Address, s.Town), Times: windowsText(s.Windows)})
		}
		if isOwner(r) && !c.ErasedAt.OK {
			body.Archive = &view.Post{Label: "Archive", Action: path + "/archive"}
			body.Erase = &view.Link{Label: "Erase this person", Href: path + "/erase"}
		}
		lead := c.Kind.Title()
		if c.Language != "en" {
			lead += " · speaks " + customer.LanguageTitle(c.Language)
		}
		return view.Frame{Title: c.Name, Lead: lead, Up: &view.Link{Label: "Customers", Href: "/customers"}}, view.CustomerCallBody(body)
	}
}

// standing is what one is asked on the phone: when were you here, what did you
// say, when do you come, what about that trouble.
func (p customerPages) standing(r *http.Request, call customer.Call) view.CallStanding {
	when, day, today := local(r), dayIn(r), p.today(r)
	var st view.CallStanding
	var last, next customer.TankLine
	var nextOn q.Opt[q.Date]
	for _, t := range call.Tanks {
		if t.VisitAt.OK && (!last.VisitAt.OK || t.VisitAt.V.After(last.VisitAt.V)) {
			last = t
		}
		if on := t.Next(day); on.OK && (!nextOn.OK || on.V < nextOn.V) {
			next, nextOn = t, on
		}
	}
	if last.VisitAt.OK {
		st.LastVisit = when.DayOf(last.VisitAt.V) + ", " + visitText(last)
	}
	if nextOn.OK {
		st.Next = dueText(when, nextOn.V, today) + ", " + next.Name
		st.Late = nextOn.V < today
	}
	for _, n := range call.Notes {
		if n.WeSaid != "" {
			st.WeSaid, st.SaidOn = n.WeSaid, when.DayOf(n.At)+", "+n.Staff
			break
		}
	}
	for _, g := range call.Sheets {
		row := view.SheetRow{Text: "Care sheet for " + g.TankName + ", " + when.DayOf(g.GivenAt), Href: "/visits/" + g.Visit + "/sheet"}
		// A sheet that cannot be read is still there to be opened.
		if s, err := wire.DecodeSheet([]byte(g.Document)); err == nil {
			row.Top = s.Top
		}
		st.Sheets = append(st.Sheets, row)
	}
	for _, a := range call.Away {
		st.Away = append(st.Away, awayText(when, a, today))
	}
	for _, pr := range call.Problems {
		st.Problems = append(st.Problems, view.ProblemRow{
			Title: pr.Title, Tank: pr.TankName, Href: problemPath(pr.ID), Belief: pr.Belief, Next: pr.Next, Since: when.DayOf(pr.OpenedAt)})
	}
	return st
}

func tankPath(id string) string { return "/tanks/" + id }

var visitWords = map[visit.Kind]string{
	visit.Routine: "routine visit", visit.CallOut: "call-out", visit.Build: "build day", visit.StartUp: "start-up visit",
	visit.Move: "move", visit.GearOnly: "gear only", visit.ByPhone: "advice by phone",
}

// visitText says what kind of visit it was and whose, and what came of its stop
// where that is worth a word.
func visitText(t customer.TankLine) string {
	text := visitWords[visit.Kind(t.VisitKind)] + " by " + t.VisitBy
	switch t.Outcome {
	case "could_not_get_in":
		text += ", could not get in"
	case "partly":
		text += ", partly done"
	}
	return text
}

// dueText says when something is due, and how late it is.
func dueText(when view.Local, on, today q.Date) string {
	switch late := int(today - on); {
	case late == 0:
		return "today"
	case late == 1:
		return when.Day(on) + ", one day late"
	case late > 1:
		return when.Day(on) + ", " + counted(late, "day", "days") + " late"
	}
	return when.Day(on)
}

func awayText(when view.Local, a customer.Away, today q.Date) view.AwayRow {
	row := view.AwayRow{Text: when.Day(a.From) + " to " + when.Day(a.To), Href: "/away/" + a.ID, Now: a.Covers(today), Why: a.Why, StandIn: a.StandIn}
	if a.From == a.To {
		row.Text = when.Day(a.From)
	}
	return row
}

// tankRows are the tanks in the order of the store, with their site's name where
// there are several, and when a care sheet was given where that is wanted.
func tankRows(r *http.Request, today q.Date, tanks []customer.TankLine, sites, sheets bool) []view.TankRow {
	when, day := local(r), dayIn(r)
	var out []view.TankRow
	for _, t := range tanks {
		row := view.TankRow{Name: t.Name, Href: tankPath(t.ID), KeepApart: t.KeepApart}
		if sites {
			row.Site = t.SiteName
		}
		if s := tank.State(t.State); s != tank.Running {
			row.State = strings.ToLower(s.Title())
		}
		if t.VisitAt.OK {
			row.Visited = when.DayOf(t.VisitAt.V) + ", " + visitText(t)
		}
		if on := t.Next(day); on.OK {
			row.Next, row.Late = dueText(when, on.V, today), on.V < today
		}
		if t.SheetAt.OK && sheets {
			row.Sheet = when.DayOf(t.SheetAt.V)
		}
		out = append(out, row)
	}
	return out
}

func noteRows(when view.Local, notes []customer.ContactNote) []view.NoteRow {
	var out []view.NoteRow
	for _, n := range notes {
		out = append(out, view.NoteRow{When: when.DayClock(n.At), Who: n.Staff, They: n.TheySaid, We: n.WeSaid})
	}
	return out
}

// windowsText says when the shop may come: days of the same times together.
func windowsText(ws []customer.Window) string {
	if len(ws) == 0 {
		return ""
	}
	type span struct {
		first, last int
		times       string
	}
	var spans []span
	for day := 1; day <= 7; day++ {
		times := customer.WindowLine(ws, day)
		if times == "" {
			continue
		}
		if n := len(spans); n > 0 && spans[n-1].last == day-1 && spans[n-1].times == times {
			spans[n-1].last = day
			continue
		}
		spans = append(spans, span{day, day, times})
	}
	var parts []string
	for _, s := range spans {
		days := customer.Weekday(s.first)[:3]
		if s.last > s.first {
			days += "–" + customer.Weekday(s.last)[:3]
		}
		parts = append(parts, days+" "+strings.ReplaceAll(s.times, "-", "–"))
	}
	return strings.Join(parts, "; ")
}

func joined(sep string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), sep)
}

func (p customerPages) keepNote(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("customer")
	n, fs := customer.ParseContactNote(fieldsOf(values))
	n.Customer, n.ID = id, values.Get("id")
	if err = fs.Err(); err == nil {
		_, err = p.store.AddContactNote(r.Context(), who(r).Person.ID, n)
	}
	if err != nil {
		call, readErr := p.store.CustomerCall(r.Context(), id, p.today(r))
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, p.drawCall(r, call))
	}
	return p.done(w, r, customerPath(id), view.Notice{Text: "What was said is kept."})
}

func (p customerPages) notes(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("customer")
	c, err := p.store.Customer(r.Context(), id)
	if err != nil {
		return err
	}
	notes, err := p.store.ContactNotes(r.Context(), id, notesInAll)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "What was said", Lead: c.Name, Up: &view.Link{Label: c.Name, Href: customerPath(id)}},
		view.CustomerNotesBody(noteRows(local(r), notes)))
}
