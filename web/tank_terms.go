package web

import (
	"context"
	"net/http"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// agreement is the form of what is agreed about visits.
func (p tankPages) agreement() record {
	return record{
		title: "Agreement", segment: "agreement", kept: "The agreement is kept.",
		lead:    "How often the shop comes. Advice between visits asks for an extra visit; it never moves this.",
		show:    func(n tankNow, f tank.Shown) tank.Shown { return n.Setup.Agreement.Show(f) },
		written: func(v tank.Versions) tank.Written { return v.Agreement },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			a := tank.ParseAgreement(f, n.Setup.Agreement)
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepAgreement(ctx, by, n.ID, since, a, version)
			}
		},
		body: func(r *http.Request, n tankNow, f view.RecordForm) (templ.Component, error) {
			people, err := p.peopleChoices(r.Context(), "Whoever comes", n.Setup.Agreement.Preferred)
			body := view.TankAgreement{RecordForm: f, People: people}
			for day := 1; day <= 7; day++ {
				body.Days = append(body.Days, view.Option{Value: tank.WeekdayField(day), Label: customer.Weekday(day)})
			}
			return view.TankAgreementBody(body), err
		},
	}
}

// peopleChoices are those who work here, and whoever is chosen already.
func (p tankPages) peopleChoices(ctx context.Context, none, chosen string) ([]view.Option, error) {
	people, err := p.store.People(ctx)
	out := []view.Option{{Label: none}}
	for _, x := range people {
		if !x.Deactivated || x.ID == chosen {
			out = append(out, view.Option{Value: x.ID, Label: x.Name})
		}
	}
	return out, err
}

// careShare is the form of what this customer does between visits.
func (p tankPages) careShare() record {
	return record{
		title: "What this customer does", segment: "share", kept: "What this customer does is kept.",
		lead:     "Tasks stay within it. The rest becomes an extra visit, put to the owner.",
		measures: tank.ShareMeasures(),
		show:     func(n tankNow, f tank.Shown) tank.Shown { return n.Setup.Share.Show(f) },
		written:  func(v tank.Versions) tank.Written { return v.Share },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			c := tank.ParseCareShare(f, n.Setup.Share)
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepCareShare(ctx, by, n.ID, since, c, version)
			}
		},
		body: func(_ *http.Request, _ tankNow, f view.RecordForm) (templ.Component, error) {
			return view.TankShareBody(view.TankShare{RecordForm: f, Acts: choices(tank.ShareActs)}), nil
		},
	}
}

// water is the form of which source water the tank gets.
func (p tankPages) water() record {
	use := func(n tankNow) tank.SourceUse {
		return tank.SourceUse{Source: n.Setup.Source.V.ID, ROShare: n.Setup.ROShare}
	}
	return record{
		title: "Change water", segment: "water", kept: "The change water is kept.",
		show:    func(n tankNow, f tank.Shown) tank.Shown { return use(n).Show(f) },
		written: func(v tank.Versions) tank.Written { return v.Source },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			u := tank.ParseSourceUse(f, use(n))
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepSource(ctx, by, n.ID, since, u, version)
			}
		},
		body: func(r *http.Request, n tankNow, f view.RecordForm) (templ.Component, error) {
			all, err := p.sources.Sources(r.Context(), n.Site)
			body := view.TankWater{RecordForm: f, New: view.Link{Label: "New source water", Href: "/sources/new?site=" + n.Site}}
			for _, s := range all {
				where := s.SiteName
				if where == "" {
					where = "the shop's"
				}
				body.Sources = append(body.Sources, view.Option{Value: s.ID, Label: s.Name, Hint: tank.TitleIn(tank.SourceKinds, string(s.Kind)) + ", " + where})
			}
			return view.TankWaterBody(body), err
		},
	}
}

// target is the form of which target profile the tank is held to.
func (p tankPages) target() record {
	return record{
		title: "Target profile", segment: "profile", kept: "The target profile is kept.",
		lead:    "Readings are judged against its bands.",
		show:    func(n tankNow, f tank.Shown) tank.Shown { f.Text["profile"] = n.Profile.ID; return f },
		written: func(v tank.Versions) tank.Written { return v.Profile },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			id := f.Name("profile", tank.MaxName, "Choose a target profile.")
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepTankProfile(ctx, by, n.ID, since, id, version)
			}
		},
		body: func(r *http.Request, n tankNow, f view.RecordForm) (templ.Component, error) {
			all, err := p.profiles.Profiles(r.Context())
			body := view.TankTarget{RecordForm: f, All: view.Link{Label: "All target profiles", Href: "/profiles"}}
			for _, l := range all {
				if !l.Archived || l.ID == n.Profile.ID {
					body.Profiles = append(body.Profiles, view.Option{Value: l.ID, Label: l.Name, Hint: l.About})
				}
			}
			return view.TankTargetBody(body), err
		},
	}
}

// agreementText is the agreement in a line.
func agreementText(a tank.Agreement) string {
	if !a.EveryDays.OK {
		return ""
	}
	text := "Every " + plural(a.EveryDays.V, "day", "days")
	if a.EveryDays.V%7 == 0 {
		text = "Every " + plural(a.EveryDays.V/7, "week", "weeks")
		if a.EveryDays.V == 7 {
			text = "Every week"
		}
	}
	text += ", give or take " + plural(a.ToleranceDays, "day", "days") + "; " + plural(a.Minutes, "minute", "minutes")
	if on := due.Weekdays(a.Weekdays).Text(); on != "" {
		text += ", on " + on
	}
	if a.TwoPeople {
		text += ", two people"
	}
	if a.Skill != "" {
		text += "; " + a.Skill
	}
	return text
}

// shareText is what the customer does in a line.
func shareText(c tank.CareShare) string {
	does := c.Does()
	if len(does) == 0 {
		return "Nothing"
	}
	return say.JoinAnd(does)
}
