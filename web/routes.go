package web

// The table of routes.
//
// To add a page:
//
//  1. Declare what it needs of the store as a small interface in the page's own
//     file (customer_list.go: type customerStore interface { … }), and add that
//     interface to Store in web.go. The store satisfies it with a method.
//  2. Write a struct with the shell and that interface, and a method
//     func(w http.ResponseWriter, r *http.Request) error for each thing a person
//     does. Return every error; a *fault.Error becomes the right answer for a
//     page and for a script alike (answer.go). people.go is the page to copy.
//  3. Draw it: a plain struct and a templ component in web/view, shown by
//     s.page(w, r, status, view.Frame{Title: …}, view.Something(p)). s.page fills
//     in the rest of the frame.
//  4. For a form: values, err := s.form(r); hand the typed values to the domain;
//     on a fault, s.again(w, r, err, values, func(view.Form) …) draws the form
//     anew with 422 and what was typed. When it is done, s.done(w, r, to, notice)
//     answers 303, or JSON to a script.
//  5. Append a line here with its decision: who may. A route without one keeps
//     the program from starting, and the matrix test walks them all.
//
// The parts of a pattern are read with r.PathValue. Who is signed in is
// who(r): its Person, and the Shop with its zone and its way of writing.

import (
	"net/http"
	"slices"
)

// access is who may use a route: a set of these four.
type access uint8

const (
	nobody     access = 1 << iota // not signed in
	technician                    // signed in
	owner                         // signed in
	linkHolder                    // holds a living link; its handler checks the token
)

// The sets in use.
const (
	anyone = nobody | technician | owner | linkHolder
	staffs = technician | owner
	owners = owner
	byLink = linkHolder
)

// A handler answers one route. What it returns is answered by the shell.
type handler func(w http.ResponseWriter, r *http.Request) error

// A route is one line of the table.
type route struct {
	Method  string
	Pattern string // as chi reads it
	Access  access
	Handler handler
	// MaxBody is the largest body in bytes; 0 for the usual 1 MiB.
	MaxBody int64
}

const (
	get  = http.MethodGet // HEAD comes with it
	post = http.MethodPost
)

// table is every route of the house, in one place.
func (s *shell) table() []route {
	in := signIn{s, s.cfg.Store}
	door := invitePages{s, s.cfg.Store}
	people := peoplePages{s, s.cfg.Store}
	me := mePages{s, s.cfg.Store}
	shop := shopPages{s, s.cfg.Store}
	customers := customerPages{s, s.cfg.Store}
	sites := sitePages{s, s.cfg.Store}
	search := searchPages{s, s.cfg.Store}
	counter := counterPage{s, s.cfg.Store}
	tanks := tankPages{s, s.cfg.Store, s.cfg.Store, s.cfg.Store}
	profiles := profilePages{s, s.cfg.Store}
	sources := sourcePages{s, s.cfg.Store, s.cfg.Store}
	kits := kitPages{s, s.cfg.Store, s.cfg.Store}
	problems := problemPages{s, s.cfg.Store}
	rules := rulePages{s, s.cfg.Store}
	changes := changePages{s, s.cfg.Store, s.cfg.Store}
	trouble := troublePages{s, s.cfg.Store, s.cfg.Store, s.cfg.Store}
	bench := benchPages{s, s.cfg.Store}
	health := health{s.cfg.Store}
	visits := visitPages{s, s.cfg.Store, s.cfg.Store, s.cfg.Store}
	tasks := taskPages{s, s.cfg.Store}
	book := roundBook{s, s.cfg.Store, s.cfg.Store, &ways{}}
	round := roundPages{s, s.cfg.Store, s.cfg.Store, s.cfg.Store, book}
	calendars := calendarPages{s, s.cfg.Store}
	rounders := roundPeoplePages{s, s.cfg.Store}
	promises := promisePages{s, s.cfg.Store}
	photos := photoPages{s, s.cfg.Store, s.cfg.Store, newDarkroom()}
	return []route{
		{Method: get, Pattern: "/healthz", Access: anyone, Handler: health.process},
		{Method: get, Pattern: "/readyz", Access: anyone, Handler: health.database},
		{Method: get, Pattern: "/static/*", Access: anyone, Handler: staticFile},
		{Method: get, Pattern: "/sw.js", Access: anyone, Handler: atTheTop("sw.js")},
		{Method: get, Pattern: "/app.webmanifest", Access: anyone, Handler: atTheTop("app.webmanifest")},

		{Method: get, Pattern: "/", Access: staffs, Handler: round.my},
		{Method: get, Pattern: "/on-board", Access: staffs, Handler: round.onBoard},
		{Method: post, Pattern: "/sites/{site}/stops", Access: staffs, Handler: round.arrive},
		{Method: post, Pattern: "/tanks/{tank}/arrive", Access: staffs, Handler: round.arriveAtTank},
		{Method: get, Pattern: "/stops/{stop}", Access: staffs, Handler: round.stop},
		{Method: post, Pattern: "/stops/{stop}/end", Access: staffs, Handler: round.end},
		{Method: post, Pattern: "/stops/{stop}/reopen", Access: staffs, Handler: round.reopen},

		{Method: get, Pattern: "/tanks/{tank}/visits/new", Access: staffs, Handler: visits.new},
		{Method: post, Pattern: "/tanks/{tank}/visits", Access: staffs, Handler: visits.submit},
		{Method: post, Pattern: "/tanks/{tank}/preview", Access: staffs, Handler: visits.preview},
		{Method: get, Pattern: "/tanks/{tank}/board", Access: staffs, Handler: visits.board},
		{Method: get, Pattern: "/visits/{visit}", Access: staffs, Handler: visits.show},
		{Method: get, Pattern: "/visits/{visit}/edit", Access: staffs, Handler: visits.edit},
		{Method: post, Pattern: "/visits/{visit}/move", Access: staffs, Handler: visits.move},
		{Method: post, Pattern: "/visits/{visit}/withdraw", Access: staffs, Handler: visits.withdraw},
		{Method: get, Pattern: "/visits/{visit}/sheet", Access: staffs, Handler: visits.sheet},
		{Method: post, Pattern: "/visits/{visit}/sheet", Access: staffs, Handler: visits.give},
		{Method: get, Pattern: "/visits/{visit}/sheet/print", Access: staffs, Handler: visits.printed},
		{Method: post, Pattern: "/tanks/{tank}/link/renew", Access: owners, Handler: visits.renewLink},
		{Method: get, Pattern: "/s/{token}", Access: byLink, Handler: visits.byLink},
		{Method: get, Pattern: "/s/{token}/print", Access: byLink, Handler: visits.byLink},
		{Method: get, Pattern: "/s/{token}/photos/{photo}", Access: byLink, Handler: photos.fileByLink},
		{Method: get, Pattern: "/photos/{photo}", Access: staffs, Handler: photos.file},
		{Method: post, Pattern: "/photos/{photo}/withdraw", Access: staffs, Handler: photos.withdraw},
		{Method: get, Pattern: "/tanks/{tank}/photos", Access: staffs, Handler: photos.show},
		{Method: post, Pattern: "/tanks/{tank}/photos", Access: staffs, Handler: photos.add, MaxBody: photoBody},
		{Method: get, Pattern: "/visits/{visit}/extra", Access: owners, Handler: counter.extra},
		{Method: post, Pattern: "/visits/{visit}/extra", Access: owners, Handler: counter.decideExtra},
		{Method: get, Pattern: "/tasks/{task}", Access: staffs, Handler: tasks.show},
		{Method: post, Pattern: "/tasks/{task}/close", Access: staffs, Handler: tasks.close},
		{Method: post, Pattern: "/tasks/{task}/open-again", Access: staffs, Handler: tasks.openAgain},
		{Method: post, Pattern: "/tasks/{task}/done", Access: owners, Handler: tasks.answered},
		{Method: get, Pattern: "/counter", Access: owners, Handler: counter.show},

		{Method: get, Pattern: "/sign-in", Access: anyone, Handler: in.page},
		{Method: post, Pattern: "/sign-in", Access: anyone, Handler: in.try},
		{Method: post, Pattern: "/sign-out", Access: anyone, Handler: in.out},
		{Method: get, Pattern: "/first-start/{token}", Access: anyone, Handler: door.firstStart},
		{Method: post, Pattern: "/first-start/{token}", Access: anyone, Handler: door.firstStartDone},
		{Method: get, Pattern: "/invite/{token}", Access: anyone, Handler: door.invited},
		{Method: post, Pattern: "/invite/{token}", Access: anyone, Handler: door.invitedDone},

		{Method: get, Pattern: "/me", Access: staffs, Handler: me.show},
		{Method: post, Pattern: "/me", Access: staffs, Handler: me.save},
		{Method: post, Pattern: "/me/password", Access: staffs, Handler: me.password},

		{Method: get, Pattern: "/people", Access: owners, Handler: people.list},
		{Method: post, Pattern: "/people/invite", Access: owners, Handler: people.invite},
		{Method: post, Pattern: "/people/invite/{invite}/withdraw", Access: owners, Handler: people.withdraw},
		{Method: get, Pattern: "/people/{person}", Access: owners, Handler: people.show},
		{Method: post, Pattern: "/people/{person}", Access: owners, Handler: people.save},
		{Method: post, Pattern: "/people/{person}/password", Access: owners, Handler: people.renewPassword},
		{Method: post, Pattern: "/people/{person}/deactivate", Access: owners, Handler: people.deactivate},
		{Method: post, Pattern: "/people/{person}/reactivate", Access: owners, Handler: people.reactivate},

		{Method: get, Pattern: "/people/{person}/hours", Access: owners, Handler: rounders.hours},
		{Method: post, Pattern: "/people/{person}/hours", Access: owners, Handler: rounders.saveHours},
		{Method: post, Pattern: "/people/{person}/leave", Access: owners, Handler: rounders.addLeave},
		{Method: post, Pattern: "/leave/{leave}/call-off", Access: owners, Handler: rounders.callOffLeave},
		{Method: post, Pattern: "/leave/{leave}/bring-back", Access: owners, Handler: rounders.bringBackLeave},
		{Method: get, Pattern: "/vans", Access: owners, Handler: rounders.vans},
		{Method: post, Pattern: "/vans", Access: owners, Handler: rounders.addVan},
		{Method: get, Pattern: "/vans/{van}", Access: owners, Handler: rounders.van},
		{Method: post, Pattern: "/vans/{van}", Access: owners, Handler: rounders.saveVan},
		{Method: post, Pattern: "/vans/{van}/archive", Access: owners, Handler: rounders.archiveVan},
		{Method: post, Pattern: "/vans/{van}/bring-back", Access: owners, Handler: rounders.bringBackVan},
		{Method: get, Pattern: "/round-book", Access: owners, Handler: book.open},
		{Method: get, Pattern: "/round-book/run", Access: owners, Handler: book.running},
		{Method: get, Pattern: "/round-book/weeks/{week}", Access: owners, Handler: book.show},
		{Method: post, Pattern: "/round-book/weeks/{week}/plan", Access: owners, Handler: book.plan},
		{Method: post, Pattern: "/round-book/weeks/{week}/stop", Access: owners, Handler: book.stop},
		{Method: post, Pattern: "/round-book/weeks/{week}/undo", Access: owners, Handler: book.undo},
		{Method: post, Pattern: "/round-book/weeks/{week}/redo", Access: owners, Handler: book.redo},
		{Method: post, Pattern: "/round-book/weeks/{week}/hand-out", Access: owners, Handler: book.handOut},
		{Method: get, Pattern: "/round-book/weeks/{week}/jobs/{job}/move", Access: owners, Handler: book.places},
		{Method: post, Pattern: "/round-book/weeks/{week}/jobs/{job}/move", Access: owners, Handler: book.move},
		{Method: post, Pattern: "/round-book/weeks/{week}/jobs/{job}/take-out", Access: owners, Handler: book.takeOut},
		{Method: post, Pattern: "/round-book/weeks/{week}/jobs/{job}/keep", Access: owners, Handler: book.keep},
		{Method: get, Pattern: "/round-book/days/{day}/print", Access: owners, Handler: book.print},
		{Method: get, Pattern: "/late", Access: staffs, Handler: round.late},
		{Method: get, Pattern: "/calendar/{token}", Access: byLink, Handler: calendars.feed},
		{Method: post, Pattern: "/me/calendar", Access: staffs, Handler: calendars.make},
		{Method: post, Pattern: "/me/calendar/revoke", Access: staffs, Handler: calendars.revoke},
		{Method: get, Pattern: "/round-book/days/{day}", Access: owners, Handler: book.day},
		{Method: post, Pattern: "/round-book/days/{day}/ill", Access: owners, Handler: book.ill},
		{Method: get, Pattern: "/round-book/roads", Access: owners, Handler: rounders.roads},
		{Method: post, Pattern: "/round-book/roads", Access: owners, Handler: rounders.saveRoads},
		{Method: get, Pattern: "/sites/{site}/promises/new", Access: staffs, Handler: promises.blank},
		{Method: post, Pattern: "/sites/{site}/promises", Access: staffs, Handler: promises.add},
		{Method: post, Pattern: "/promises/{promise}/take-back", Access: staffs, Handler: promises.takeBack},
		{Method: post, Pattern: "/promises/{promise}/bring-back", Access: staffs, Handler: promises.bringBack},

		{Method: get, Pattern: "/search", Access: staffs, Handler: search.find},
		{Method: get, Pattern: "/customers", Access: staffs, Handler: customers.list},
		{Method: post, Pattern: "/customers", Access: staffs, Handler: customers.add},
		{Method: get, Pattern: "/customers/new", Access: staffs, Handler: customers.blank},
		{Method: get, Pattern: "/customers/{customer}", Access: staffs, Handler: customers.call},
		{Method: post, Pattern: "/customers/{customer}", Access: staffs, Handler: customers.save},
		{Method: get, Pattern: "/customers/{customer}/edit", Access: staffs, Handler: customers.edit},
		{Method: get, Pattern: "/customers/{customer}/notes", Access: staffs, Handler: customers.notes},
		{Method: post, Pattern: "/customers/{customer}/notes", Access: staffs, Handler: customers.keepNote},
		{Method: post, Pattern: "/customers/{customer}/archive", Access: owners, Handler: customers.archive},
		{Method: post, Pattern: "/customers/{customer}/bring-back", Access: owners, Handler: customers.bringBack},
		{Method: get, Pattern: "/customers/{customer}/erase", Access: owners, Handler: customers.askErase},
		{Method: post, Pattern: "/customers/{customer}/erase", Access: owners, Handler: customers.erase},
		{Method: get, Pattern: "/customers/{customer}/sites/new", Access: staffs, Handler: sites.blank},
		{Method: post, Pattern: "/customers/{customer}/sites", Access: staffs, Handler: sites.add},
		{Method: get, Pattern: "/sites", Access: staffs, Handler: sites.list},
		{Method: get, Pattern: "/sites/{site}", Access: staffs, Handler: sites.show},
		{Method: post, Pattern: "/sites/{site}", Access: staffs, Handler: sites.save},
		{Method: get, Pattern: "/sites/{site}/edit", Access: staffs, Handler: sites.edit},
		{Method: post, Pattern: "/sites/{site}/archive", Access: owners, Handler: sites.archive},
		{Method: post, Pattern: "/sites/{site}/bring-back", Access: owners, Handler: sites.bringBack},
		{Method: get, Pattern: "/sites/{site}/access", Access: staffs, Handler: sites.access},
		{Method: post, Pattern: "/sites/{site}/access", Access: staffs, Handler: sites.saveAccess},
		{Method: get, Pattern: "/sites/{site}/incidents", Access: staffs, Handler: sites.incidents},
		{Method: post, Pattern: "/sites/{site}/incidents", Access: staffs, Handler: sites.recordIncident},
		{Method: get, Pattern: "/sites/{site}/away/new", Access: staffs, Handler: sites.blankAway},
		{Method: post, Pattern: "/sites/{site}/away", Access: staffs, Handler: sites.addAway},
		{Method: get, Pattern: "/away/{away}", Access: staffs, Handler: sites.away},
		{Method: post, Pattern: "/away/{away}", Access: staffs, Handler: sites.saveAway},
		{Method: get, Pattern: "/away/{away}/packets", Access: staffs, Handler: sites.packets},
		{Method: post, Pattern: "/away/{away}/packets", Access: staffs, Handler: sites.keepPackets},
		{Method: get, Pattern: "/away/{away}/sheet", Access: staffs, Handler: sites.awaySheet},
		{Method: post, Pattern: "/away/{away}/call-off", Access: staffs, Handler: sites.callOffAway},
		{Method: post, Pattern: "/away/{away}/bring-back", Access: staffs, Handler: sites.bringBackAway},
		{Method: post, Pattern: "/sites/{site}/keys", Access: staffs, Handler: sites.addKey},
		{Method: get, Pattern: "/keys", Access: staffs, Handler: sites.keys},
		{Method: get, Pattern: "/keys/{key}", Access: staffs, Handler: sites.key},
		{Method: post, Pattern: "/keys/{key}/take", Access: staffs, Handler: sites.takeKey},
		{Method: post, Pattern: "/keys/{key}/return", Access: staffs, Handler: sites.returnKey},
		{Method: post, Pattern: "/keys/{key}/give-up", Access: staffs, Handler: sites.giveUpKey},
		{Method: post, Pattern: "/keys/{key}/found", Access: staffs, Handler: sites.foundKey},

		{Method: get, Pattern: "/tanks", Access: staffs, Handler: tanks.list},
		{Method: post, Pattern: "/tanks", Access: staffs, Handler: tanks.make},
		{Method: get, Pattern: "/tanks/new", Access: staffs, Handler: tanks.fresh},
		{Method: get, Pattern: "/tanks/{tank}", Access: staffs, Handler: tanks.show},
		{Method: get, Pattern: "/tanks/{tank}/card", Access: staffs, Handler: tanks.card},
		{Method: post, Pattern: "/tanks/{tank}/card", Access: staffs, Handler: tanks.saveCard},
		{Method: get, Pattern: "/tanks/{tank}/pins", Access: staffs, Handler: tanks.pins},
		{Method: post, Pattern: "/tanks/{tank}/pins", Access: staffs, Handler: tanks.savePins},
		{Method: get, Pattern: "/tanks/{tank}/setup", Access: staffs, Handler: tanks.showRecord(tanks.setup())},
		{Method: post, Pattern: "/tanks/{tank}/setup", Access: staffs, Handler: tanks.saveRecord(tanks.setup())},
		{Method: get, Pattern: "/tanks/{tank}/dosing", Access: staffs, Handler: tanks.showRecord(tanks.dosing())},
		{Method: post, Pattern: "/tanks/{tank}/dosing", Access: staffs, Handler: tanks.saveRecord(tanks.dosing())},
		{Method: get, Pattern: "/tanks/{tank}/water", Access: staffs, Handler: tanks.showRecord(tanks.water())},
		{Method: post, Pattern: "/tanks/{tank}/water", Access: staffs, Handler: tanks.saveRecord(tanks.water())},
		{Method: get, Pattern: "/tanks/{tank}/share", Access: staffs, Handler: tanks.showRecord(tanks.careShare())},
		{Method: post, Pattern: "/tanks/{tank}/share", Access: staffs, Handler: tanks.saveRecord(tanks.careShare())},
		{Method: get, Pattern: "/tanks/{tank}/agreement", Access: owners, Handler: tanks.showRecord(tanks.agreement())},
		{Method: post, Pattern: "/tanks/{tank}/agreement", Access: owners, Handler: tanks.saveRecord(tanks.agreement())},
		{Method: get, Pattern: "/tanks/{tank}/profile", Access: owners, Handler: tanks.showRecord(tanks.target())},
		{Method: post, Pattern: "/tanks/{tank}/profile", Access: owners, Handler: tanks.saveRecord(tanks.target())},
		{Method: get, Pattern: "/tanks/{tank}/stock", Access: staffs, Handler: tanks.stock},
		{Method: post, Pattern: "/tanks/{tank}/stock", Access: staffs, Handler: tanks.move},
		{Method: get, Pattern: "/tanks/{tank}/gear", Access: staffs, Handler: tanks.gear},
		{Method: post, Pattern: "/tanks/{tank}/gear", Access: staffs, Handler: tanks.tend},
		{Method: get, Pattern: "/tanks/{tank}/history", Access: staffs, Handler: tanks.history},
		{Method: get, Pattern: "/tanks/{tank}/curves", Access: staffs, Handler: tanks.curves},

		{Method: get, Pattern: "/bench", Access: staffs, Handler: bench.list},
		{Method: get, Pattern: "/bench/{calc}", Access: staffs, Handler: bench.calc},
		{Method: get, Pattern: "/bench/{calc}/label", Access: staffs, Handler: bench.label},

		{Method: get, Pattern: "/profiles", Access: staffs, Handler: profiles.list},
		{Method: post, Pattern: "/profiles", Access: owners, Handler: profiles.make},
		{Method: get, Pattern: "/profiles/new", Access: owners, Handler: profiles.fresh},
		{Method: get, Pattern: "/profiles/{profile}", Access: staffs, Handler: profiles.show},
		{Method: get, Pattern: "/profiles/{profile}/edit", Access: owners, Handler: profiles.edit},
		{Method: post, Pattern: "/profiles/{profile}/edit", Access: owners, Handler: profiles.save},
		{Method: get, Pattern: "/profiles/{profile}/name", Access: owners, Handler: profiles.name},
		{Method: post, Pattern: "/profiles/{profile}/name", Access: owners, Handler: profiles.rename},
		{Method: get, Pattern: "/rules", Access: staffs, Handler: rules.list},
		{Method: get, Pattern: "/changes", Access: owners, Handler: changes.list},
		{Method: get, Pattern: "/tanks/{tank}/kits", Access: staffs, Handler: kits.stay},
		{Method: post, Pattern: "/tanks/{tank}/kits", Access: staffs, Handler: kits.keepStay},
		{Method: post, Pattern: "/profiles/{profile}/archive", Access: owners, Handler: profiles.archive(true)},
		{Method: post, Pattern: "/profiles/{profile}/restore", Access: owners, Handler: profiles.archive(false)},

		{Method: get, Pattern: "/sources", Access: staffs, Handler: sources.list},
		{Method: post, Pattern: "/sources", Access: staffs, Handler: sources.make},
		{Method: get, Pattern: "/sources/new", Access: staffs, Handler: sources.fresh},
		{Method: get, Pattern: "/sources/{source}", Access: staffs, Handler: sources.show},
		{Method: get, Pattern: "/sources/{source}/edit", Access: staffs, Handler: sources.edit},
		{Method: post, Pattern: "/sources/{source}/edit", Access: staffs, Handler: sources.save},

		{Method: get, Pattern: "/kits", Access: staffs, Handler: kits.list},
		{Method: post, Pattern: "/kits", Access: owners, Handler: kits.make},
		{Method: get, Pattern: "/kits/new", Access: owners, Handler: kits.fresh},
		{Method: get, Pattern: "/kits/{kit}", Access: staffs, Handler: kits.show},
		{Method: post, Pattern: "/kits/{kit}/lots", Access: staffs, Handler: kits.addLot},
		{Method: post, Pattern: "/kits/{kit}/archive", Access: owners, Handler: kits.archive(true)},
		{Method: post, Pattern: "/kits/{kit}/restore", Access: owners, Handler: kits.archive(false)},
		{Method: post, Pattern: "/lots/{lot}/checks", Access: staffs, Handler: kits.check},
		{Method: post, Pattern: "/lots/{lot}/retire", Access: staffs, Handler: kits.retire(true)},
		{Method: post, Pattern: "/lots/{lot}/bring-back", Access: staffs, Handler: kits.retire(false)},
		{Method: get, Pattern: "/customers/{customer}/trouble", Access: staffs, Handler: trouble.whichTank},
		{Method: get, Pattern: "/tanks/{tank}/trouble", Access: staffs, Handler: trouble.list},
		{Method: get, Pattern: "/tanks/{tank}/trouble/{guide}", Access: staffs, Handler: trouble.guide},
		{Method: post, Pattern: "/tanks/{tank}/trouble/{guide}", Access: staffs, Handler: trouble.keepCall},
		{Method: get, Pattern: "/trouble/{call}", Access: staffs, Handler: trouble.call},
		{Method: post, Pattern: "/trouble/{call}/settle", Access: staffs, Handler: trouble.settle(true)},
		{Method: post, Pattern: "/trouble/{call}/open-again", Access: staffs, Handler: trouble.settle(false)},
		{Method: get, Pattern: "/tanks/{tank}/deaths", Access: staffs, Handler: trouble.deaths},
		{Method: post, Pattern: "/tanks/{tank}/deaths", Access: staffs, Handler: trouble.recordDeath},
		{Method: get, Pattern: "/tanks/{tank}/stopped", Access: staffs, Handler: trouble.stopped},
		{Method: post, Pattern: "/tanks/{tank}/stopped", Access: staffs, Handler: trouble.keepStop},
		{Method: get, Pattern: "/tanks/{tank}/apart", Access: staffs, Handler: trouble.apart},
		{Method: post, Pattern: "/tanks/{tank}/apart", Access: staffs, Handler: trouble.keepApart},
		{Method: post, Pattern: "/tanks/{tank}/apart/over", Access: staffs, Handler: trouble.apartOver},
		{Method: get, Pattern: "/tanks/{tank}/problems", Access: staffs, Handler: problems.list},
		{Method: post, Pattern: "/tanks/{tank}/problems", Access: staffs, Handler: problems.open},
		{Method: get, Pattern: "/problems/{problem}", Access: staffs, Handler: problems.show},
		{Method: post, Pattern: "/problems/{problem}", Access: staffs, Handler: problems.save},
		{Method: post, Pattern: "/problems/{problem}/tries", Access: staffs, Handler: problems.try},
		{Method: post, Pattern: "/problems/{problem}/close", Access: staffs, Handler: problems.close},
		{Method: post, Pattern: "/problems/{problem}/open-again", Access: staffs, Handler: problems.openAgain},

		{Method: get, Pattern: "/shop", Access: owners, Handler: shop.show},
		{Method: post, Pattern: "/shop", Access: owners, Handler: shop.save},
	}
}

// Addresses lists the patterns of all pages and files that can be asked for, for
// whoever walks through all of them.
func Addresses() []string {
	var out []string
	for _, rt := range (&shell{}).table() {
		if rt.Method == get {
			out = append(out, rt.Pattern)
		}
	}
	return out
}

// A menuLink is a link of the main menu. One whose page is not in the table is left
// out, so that the menu never leads nowhere.
type menuLink struct {
	label, pattern string
	access         access
}

var menu = []menuLink{
	{"Counter", "/counter", owners},
	{"My round", "/", staffs},
	{"Tanks", "/tanks", staffs},
	{"Search", "/search", staffs},
	{"Bench", "/bench", staffs},
	{"Customers", "/customers", staffs},
	{"Round book", "/round-book", owners},
	{"Profiles", "/profiles", staffs},
	{"Kits", "/kits", staffs},
	{"Shop", "/shop", owners},
}

func (s *shell) hasPage(pattern string) bool {
	return slices.ContainsFunc(s.routes, func(rt route) bool { return rt.Method == get && rt.Pattern == pattern })
}
