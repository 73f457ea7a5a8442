package view_test

import (
	"net/url"
	"strings"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// placeStories are the pages of customers, sites, keys and problems: with
// nothing in them, with much too much, and with faults.
func placeStories() []story {
	long := strings.Repeat("Unbreakablylongname", 12)
	text := strings.Repeat("They said that the water is as clear as it ever was. ", 30) + "<b>not bold</b>"
	wrong := func(fields ...string) view.Form {
		f := view.Form{Values: url.Values{}, Beside: map[string]string{}}
		for _, name := range fields {
			f.Values.Set(name, long)
			f.Beside[name] = "Somebody else made it “" + long + "” meanwhile."
			f.Faults.Add(name, fault.Impossible, "This cannot be.")
			f.Was = append(f.Was, view.Pair{Name: name, Value: text})
		}
		return f
	}
	link := view.Link{Label: long, Href: "/customers"}
	post := view.Post{Label: "Archive", Action: "/customers/1/archive"}
	tank := view.TankRow{Name: long, Href: "/tanks/1", Site: long, State: "resting", Visited: text, Next: "Sun 22 Nov 2026, 2 days late", Sheet: "Mon 9 Nov 2026", Late: true, KeepApart: true}
	note := view.NoteRow{When: "Tue 24 Nov 2026, 09:05", Who: long, They: text, We: text}
	away := view.AwayRow{Text: "Mon 23 Nov 2026 to Wed 2 Dec 2026", Href: "/away/1", Why: long, StandIn: text, Now: true}
	problem := view.ProblemRow{Title: long, Tank: long, Href: "/problems/1", Belief: text, Next: text, Since: "Tue 3 Nov 2026", Closed: "Tue 24 Nov 2026"}
	key := view.KeyRow{Number: long, Href: "/keys/1", Where: long, Site: long, Out: true, Move: post}
	head := view.ListHead{Places: []view.Link{link, link}, Sorts: []view.Link{link, {Label: "Name", Href: "?", Here: true}}, Other: link, Noun: "customers",
		Pager: view.Pager{Page: 2, Pages: 3, First: 51, Last: 100, Total: 120, Noun: "customers", Previous: "?page=1", Next: "?page=3"}}
	full := view.CustomerCall{
		Name: long, Email: long + "@example.org", Notes: text, Phones: []view.Phone{{Text: "+353 1 555 0142", Number: "+35315550142"}, {Text: long, Number: "1"}},
		Standing: view.CallStanding{LastVisit: text, WeSaid: text, SaidOn: "Tue 24 Nov 2026", Sheets: []view.SheetRow{{Text: "Care sheet for River bend, Mon 9 Nov 2026", Href: "/visits/1/sheet", Top: text}, {Text: "Care sheet for Nano, Mon 9 Nov 2026", Href: "/visits/2/sheet"}}, Next: "Sun 22 Nov 2026", Late: true, Problems: []view.ProblemRow{problem, problem}, Away: []view.AwayRow{away}},
		Tanks:    []view.TankRow{tank, tank}, Sites: []view.SiteRow{{Name: long, Href: "/sites/1", Where: text, Times: text}}, Said: []view.NoteRow{note, {When: "Tue", Who: "Ilo"}},
		Older: &link, Form: wrong("they_said", "we_said"), NoteAction: "/customers/1/notes", Edit: link, AddSite: link, Archive: &post, Erase: &link,
	}
	shelved := full
	shelved.Archived, shelved.BringBack = true, post
	site := view.Site{Position: long, MapHref: "geo:53.350000,-6.260000", Parking: long, Stairs: text, Times: text, Stopcock: text, Breaker: long, Hose: "12 m", Drain: text, Tested: "Fri 1 Mar 2024", TestedLongAgo: true,
		Room: "40 m³", Alarm: "none", Limit: "60.00", Tanks: []view.TankRow{tank}, Keys: []view.KeyRow{key}, AddKey: "/sites/1/keys", Form: wrong("number"), Away: []view.AwayRow{away}, NewAway: link, Access: link, Edit: link, Incidents: link, Archive: &post}
	units := []view.Option{{Value: "m", Label: "m"}, {Value: "ft", Label: "ft"}}
	siteForm := view.SiteForm{Action: "/sites/1", Days: []view.Option{{Value: "window.1", Label: "Monday"}, {Value: "window.2", Label: "Tuesday"}}, Lengths: units, Rooms: units, LengthUnit: "ft", AltitudeUnit: "m", RoomUnit: "m", Alarm: []view.Option{{Value: "", Label: "Not known"}, {Value: "yes", Label: "Fitted"}}, MayPrice: true, Keep: "Keep", Back: link}
	siteFaults := siteForm
	siteFaults.Form = wrong("name", "position", "altitude", "parking_minutes", "window.1", "rcd_tested", "hose", "room", "co2_alarm", "spending_limit")
	barred := siteForm
	barred.MayPrice, barred.Limit = false, "60.00"

	return []story{
		{"customers-empty", titled("Customers", ""), view.CustomerListBody(view.CustomerList{New: view.Link{Label: "Add a customer", Href: "/customers/new"}})},
		{"customers-archived-empty", titled("Customers", ""), view.CustomerListBody(view.CustomerList{Head: view.ListHead{Archived: true}})},
		{"customers-long", titled("Customers", ""), view.CustomerListBody(view.CustomerList{Head: head, New: link, Lines: []view.CustomerLine{{Name: long, Href: "/customers/1", Kind: "Home", Towns: text, Tanks: "3 tanks", Phone: long, Visited: "Tue 3 Nov 2026", Spoken: "Tue 24 Nov 2026"}, {Name: "Nora"}}})},
		{"call-empty", titled("Nora Quill", ""), view.CustomerCallBody(view.CustomerCall{Name: "Nora Quill"})},
		{"call-long", titled(long, text), view.CustomerCallBody(full)},
		{"call-archived", titled("Nora Quill", ""), view.CustomerCallBody(shelved)},
		{"call-erased", titled("Erased customer", ""), view.CustomerCallBody(view.CustomerCall{Erased: true})},
		{"notes-empty", titled("What was said", ""), view.CustomerNotesBody(nil)},
		{"customer-form", titled("A new customer", ""), view.CustomerFormBody(view.CustomerForm{Action: "/customers", Keep: "Add", Back: link})},
		{"customer-form-faults", titled("A new customer", ""), view.CustomerFormBody(view.CustomerForm{Form: wrong("name", "kind", "phones", "email", "language", "notes"), Action: "/customers", Keep: "Add", Back: link})},
		{"erase", titled("Erase Nora Quill", ""), view.CustomerEraseBody(view.CustomerErase{Form: wrong("name"), Name: long, Action: "/customers/1/erase", Back: link})},
		{"sites-empty", titled("Sites", ""), view.SiteListBody(view.SiteList{})},
		{"sites-long", titled("Sites", ""), view.SiteListBody(view.SiteList{Head: head, Lines: []view.SiteLine{{Name: long, Href: "/sites/1", Customer: long, Where: text, Tanks: "3 tanks", KeysOut: "2 keys out", Visited: "Tue 3 Nov 2026", Away: true}}})},
		{"site-empty", titled("The mill", ""), view.SiteBody(view.Site{AddKey: "/sites/1/keys"})},
		{"site-long", titled(long, text), view.SiteBody(site)},
		{"site-form", titled("A new site", ""), view.SiteFormBody(siteForm)},
		{"site-form-faults", titled("The mill", ""), view.SiteFormBody(siteFaults)},
		{"site-form-technician", titled("The mill", ""), view.SiteFormBody(barred)},
		{"access", titled("How to get in", ""), view.SiteAccessBody(view.SiteAccess{Form: wrong("note", "alarm_code"), Action: "/sites/1/access", Written: "Tue 24 Nov 2026, 09:05", Back: link})},
		{"away", titled("An absence", ""), view.SiteAwayBody(view.SiteAway{Form: wrong("from", "to", "why", "stand_in"), Action: "/away/1", Keep: "Keep", Back: link, CallOff: &post})},
		{"incidents-empty", titled("Incidents", ""), view.SiteIncidentsBody(view.SiteIncidents{Action: "/sites/1/incidents"})},
		{"incidents-long", titled("Incidents", ""), view.SiteIncidentsBody(view.SiteIncidents{Form: wrong("what", "tank", "done", "told"), Action: "/sites/1/incidents", Tanks: units, Rows: []view.IncidentRow{{When: "Tue 24 Nov 2026, 09:05", Who: long, Tank: long, What: text, Done: text, Told: text}}})},
		{"keys-empty", titled("Keys", ""), view.KeyListBody(view.KeyList{})},
		{"keys-long", titled("Keys", ""), view.KeyListBody(view.KeyList{Keys: []view.KeyRow{key, key}})},
		{"key", titled("Key K-17", ""), view.KeyBody(view.Key{Row: key, Form: wrong("holder"), Hands: units, Take: "/keys/1/take", Return: post, GiveUp: post})},
		{"key-gone", titled("Key K-17", ""), view.KeyBody(view.Key{Gone: true, Found: post})},
		{"search-empty", titled("Search", ""), view.SearchBody(view.Search{})},
		{"search-nothing", titled("Search", ""), view.SearchBody(view.Search{Text: "<script>x</script>"})},
		{"search-long", titled("Search", ""), view.SearchBody(view.Search{Text: long, More: true, Tanks: []view.FoundRow{{Name: long, Href: "/tanks/1", Quiet: text, Word: "resting"}},
			Customers: []view.FoundCustomer{{FoundRow: view.FoundRow{Name: long, Href: "/customers/1", Quiet: text, Word: "archived"}, Sites: []view.FoundRow{{Name: long, Href: "/sites/1", Quiet: text}}}}})},
		{"problems-empty", titled("Problems", ""), view.ProblemListBody(view.ProblemList{Action: "/tanks/1/problems"})},
		{"problems-long", titled("Problems", ""), view.ProblemListBody(view.ProblemList{Rows: []view.ProblemRow{problem, {Title: "Open", Since: "Tue 3 Nov 2026"}}, Form: wrong("title", "belief", "next"), Action: "/tanks/1/problems"})},
		{"problem", titled(long, ""), view.ProblemBody(view.Problem{Form: wrong("title", "belief", "next"), Action: "/problems/1", TryAction: "/problems/1/tries", Opened: "Tue 3 Nov 2026", By: long, Tries: []view.TryRow{{When: "Tue 10 Nov 2026", Who: long, Tried: text, Result: text}}, Close: post})},
		{"problem-closed", titled(long, ""), view.ProblemBody(view.Problem{Closed: "Tue 24 Nov 2026", Opened: "Tue 3 Nov 2026", Again: post})},
	}
}
