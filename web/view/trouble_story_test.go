package view_test

import (
	"net/url"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// troubleStories are the pages of a bad moment: empty, full, and with what is
// wrong in them.
func troubleStories() []story {
	owner := &view.Phone{Text: "+353 1 555 0140", Number: "+35315550140"}
	back := view.Link{Label: "Leave it", Href: "/tanks/t/trouble"}
	faulty := func(values url.Values, names ...string) view.Form {
		f := view.Form{Values: values}
		for _, n := range names {
			f.Faults.Add(n, fault.Missing, "Say something of %s.", n)
		}
		return f
	}
	calls := []view.CallRow{{Title: "Fish gasp at the surface", Href: "/trouble/c", When: "Tue 24 Nov 2026, 10:30", By: "Ilo Vance", Going: "Somebody goes now: " + long, Waits: true},
		{Title: "The water is cloudy", Href: "/trouble/d", When: "Mon 2 Nov 2026, 09:00", By: "Bea Okafor-Lind", Going: "Looked at on the next visit"}}
	guide := view.Guide{Action: "/tanks/t/trouble/gasping", First: "The living ones first.", Owner: owner, Back: back,
		Ask: []view.GuideAsk{{Name: "q.all", Ask: "Are most of the fish at the surface?", Then: "Yes: go now"}, {Name: "q.green", Ask: "Is it green?"}},
		Do:  []view.Option{{Value: "read.0", Label: "Bring air in."}, {Value: "read.1", Label: "No food."}, {Value: "read.2", Label: long}}, Not: []string{"Put nothing in."},
		Goes: "Whoever has the kits.", Else: "If no reply presses: somebody goes today.", Bring: []string{"an air pump"}, There: []string{"Test TAN first."}, Goings: choices, People: choices}
	badGuide := guide
	badGuide.Form = faulty(url.Values{"q.all": {"yes"}, "words": {long}, "read.0": {"on"}}, "q.green", "words", "goes")
	deaths := view.Deaths{Action: "/tanks/t/deaths", Steps: []string{"The living first.", "Half a litre of the old water."}, Groups: choices, Befores: choices, Bodies: choices, Gills: []string{"pale"}, Visit: "/tanks/t/visits/new", Photos: "/tanks/t/photos", Back: back}
	badDeath := deaths
	badDeath.Form = faulty(url.Values{"gills": {"pale"}, "before": {"a"}}, "n", "day", "before")
	badDeath.Rows = []view.DeathRow{{When: "Found on Tue 24 Nov 2026", By: "Ilo Vance", What: "2 Tetras: cause not known", Facts: []view.Fact{{Name: "Gills", Text: "pale"}}, Words: long}}
	stopped := view.Stopped{Action: "/tanks/t/stopped", Spans: choices, Short: []string{"Switch it on."}, Long: []string{"Do not just switch it on."}, Back: back}
	badStop := stopped
	badStop.Form = faulty(url.Values{"words": {long}}, "stood")
	badStop.Rows = []view.StoppedRow{{When: "Tue 24 Nov 2026", By: "Ilo Vance", What: "The filter stood still: not known", Words: long}}
	apart := view.Apart{Action: "/tanks/t/apart", Rules: []string{"Own net."}, Back: back}
	kept := view.Apart{Form: faulty(nil, "keep_apart_since"), Action: "/tanks/t/apart", Rules: []string{"Own net."}, Owner: owner, Kept: "since Mon 2 Nov 2026", Over: &view.Post{Label: "It is over", Action: "/tanks/t/apart/over"}, Back: back}
	problem := view.Problem{Form: view.Form{Values: url.Values{"title": {"Black tufts"}}}, Action: "/problems/p", TryAction: "/problems/p/tries", Opened: "Mon 5 Oct 2026", By: "Ilo Vance", Close: view.Post{Label: "It is settled", Action: "/problems/p/close"}}
	closed := problem
	closed.Closed, closed.Belief, closed.Told, closed.Again = "Tue 24 Nov 2026", long, "We are turning the CO2 steadier.", view.Post{Label: "Open it again", Action: "/problems/p/open-again"}
	closed.Tries = []view.TryRow{{When: "Mon 12 Oct 2026", Who: "Bea Okafor-Lind", Tried: long, Result: "Less"}}
	badProblem := problem
	badProblem.Form, badProblem.Try = faulty(nil, "title"), faulty(url.Values{"result": {"none"}}, "tried")
	incidents := view.SiteIncidents{Action: "/sites/s/incidents", Kinds: choices, Tanks: choices, Owner: owner, Back: back, Steps: []view.IncidentSteps{{Title: "Overflow", Steps: []string{"Tap shut."}}}}
	badIncident := incidents
	badIncident.First = []string{"Breaker off."}
	badIncident.Form = faulty(url.Values{"done": {"mopped"}}, "kind", "what", "tank")
	badIncident.Rows = []view.IncidentRow{{When: "Tue 24 Nov 2026", Who: "Ilo Vance", Tank: "Window tank", Kind: "Leak", What: long, Done: "half drained", Told: "the owner"}}
	packets := view.Packets{Form: faulty(url.Values{"note": {"lid sticks"}}, "grams"), Action: "/away/a/packets", Feedings: choices, FeederBy: "Set up and watched by Sun 29 Nov 2026.", Back: back,
		Tanks: []view.PacketTank{{Name: long, Every: "every", Grams: "grams", Feeder: "feeder", Tried: "tried", Note: "note"}}}
	sheet := view.AwaySheet{Change: view.Link{Label: "Change the packets", Href: "/away/a/packets"}, Warnings: []string{"The feeder has not been tried."}, Shop: "Fernweir Aquascapes", Phone: owner.Text, Dial: owner.Number, For: "Ines next door",
		Tanks: []view.AwayTank{{Name: "Window tank", How: "Every second day, 0.5 g in it", Note: "lid sticks", Packets: []view.AwayPacket{{Number: "1", Day: "Mon 7 Dec 2026"}, {Number: "2", Day: "Wed 9 Dec 2026"}}}}}
	open := []view.OpenProblem{{Title: "Black tufts", Href: "/problems/p", Belief: "CO2 swings", Tried: "Opened the valve: cleaner growth", Next: "Outlet to the front", Told: "We are turning the CO2 steadier."}, {Title: long, Href: "/problems/q"}}
	return []story{
		{"trouble-empty", titled("Trouble", "Window tank"), view.TroubleBody(view.Trouble{})},
		{"trouble", titled("Trouble", "Window tank"), view.TroubleBody(view.Trouble{Owner: owner, Waiting: calls[:1], Before: calls[1:], Phone: []view.Link{{Label: "The water tingles", Href: "/tanks/t/trouble/tingling"}}, AtTank: []view.TroubleWay{{Label: "Damage or danger", What: "People and power first", Kinds: []view.Link{{Label: "Leak", Href: "/sites/s/incidents?kind=leak"}, {Label: "Stuck heater", Href: "/sites/s/incidents?kind=stuck_heater"}}}, {Label: "A death", Href: "/tanks/t/deaths", What: "The living first"}}})},
		{"trouble-guide", titled("Fish gasp at the surface", "Window tank"), view.GuideBody(guide)},
		{"trouble-guide-faults", titled("Fish gasp at the surface", "Window tank"), view.GuideBody(badGuide)},
		{"trouble-call", titled("Fish gasp at the surface", "Taken today"), view.CallBody(view.CallPage{Going: "Somebody goes now: Ilo Vance", Why: []string{"Are most at the surface? Yes."}, Waits: true, Told: []string{"Bring air in."}, NotTold: []string{"No food."}, Replies: []view.Fact{{Name: "Is it green?", Text: "not asked"}},
			Words: long, Not: []string{"Put nothing in."}, There: []string{"Test TAN."}, Bring: []string{"an air pump"}, Go: []view.Link{{Label: "Write down a call-out", Href: "/v"}}, Settle: view.Post{Label: "It is settled", Action: "/trouble/c/settle"}, Owner: owner})},
		{"trouble-call-settled", titled("Fish gasp", ""), view.CallBody(view.CallPage{Going: "Nobody needs to go", Settled: "Settled on Tue 24 Nov 2026", Again: view.Post{Label: "It is not settled", Action: "/trouble/c/open-again"}})},
		{"trouble-which-none", titled("Trouble at which tank?", ""), view.WhichTankBody(view.WhichTank{Back: back})},
		{"death-empty", titled("A death", ""), view.DeathsBody(deaths)}, {"death-faults", titled("A death", ""), view.DeathsBody(badDeath)},
		{"stopped-empty", titled("Power cut", ""), view.StoppedBody(stopped)}, {"stopped-faults", titled("Power cut", ""), view.StoppedBody(badStop)},
		{"apart-empty", titled("Disease: keep apart", ""), view.ApartBody(apart)}, {"apart-kept", titled("Disease: keep apart", ""), view.ApartBody(kept)},
		{"problem-list-empty", titled("Problems", ""), view.ProblemListBody(view.ProblemList{Action: "/tanks/t/problems"})},
		{"problem-list", titled("Problems", ""), view.ProblemListBody(view.ProblemList{Form: faulty(nil, "title"), Action: "/tanks/t/problems", Rows: []view.ProblemRow{{Title: long, Href: "/problems/p", Next: long, Since: "Mon 5 Oct 2026"}, {Title: "Old", Href: "/problems/q", Closed: "Tue 24 Nov 2026"}}})},
		{"problem-new", titled("Black tufts", ""), view.ProblemBody(problem)}, {"problem-closed", titled(long, ""), view.ProblemBody(closed)}, {"problem-faults", titled("Black tufts", ""), view.ProblemBody(badProblem)},
		{"incident-empty", titled("Incidents", ""), view.SiteIncidentsBody(incidents)}, {"incident-faults", titled("Incidents", ""), view.SiteIncidentsBody(badIncident)},
		{"packets-none", titled("Packets", ""), view.PacketsBody(view.Packets{Back: back})}, {"packets-faults", titled("Packets", ""), view.PacketsBody(packets)}, {"away-sheet", titled("While they are away", ""), view.AwaySheetBody(sheet)},
		{"visit-open-problem", titled("Window tank", ""), view.VisitBody(view.Visit{Href: "/visits/v", Open: open, Answers: []view.VisitAnswer{{Text: "Clean the filter", Says: "the customer declined: the manager, “too dear”", Href: "/tasks/t"}}})},
		{"changes-empty", titled("What changed", ""), view.ChangesBody(view.Changes{Filtered: true})},
		{"changes", titled("What changed", ""), view.ChangesBody(view.Changes{Older: "/changes?before=2", Rows: []view.ChangeRow{{When: "Tue 24 Nov 2026", Who: "Ilo Vance", Name: "Window tank", What: "Tank: changed", Href: "/tanks/t", Facts: []view.ChangeFact{{Name: "Name", Now: long, Was: "Bar"}}}, {When: "Tue 24 Nov 2026", Who: "the program", What: "Roads: read"}}})},
	}
}
