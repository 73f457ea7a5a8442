package web

import (
	"context"
	"net/http"
	"strings"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// setup is the form of what the tank is.
func (p tankPages) setup() record {
	return record{
		title: "Set-up", segment: "setup", kept: "The set-up is kept. What stood before stays in the history.",
		lead:     "Inner sizes. What nobody knows stays empty: blank is not nothing.",
		measures: tank.SetupMeasures(),
		show:     func(n tankNow, f tank.Shown) tank.Shown { return n.Setup.Show(f) },
		written:  func(v tank.Versions) tank.Written { return v.Setup },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			s := tank.ParseSetup(f, n.Setup)
			// What cannot be reckoned is told beside the fields that say it.
			if _, why, ok := volumesOf(s); !ok && s.Length.OK && s.Width.OK && (s.Level.OK || s.Height.OK) && len(f.Faults) == 0 {
				f.Faults.Add("substrate_depth", "impossible", "%s", why)
			}
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepSetup(ctx, by, n.ID, since, s, version)
			}
		},
		body: func(r *http.Request, n tankNow, f view.RecordForm) (templ.Component, error) {
			// The volume of what is typed, as far as it can be read; faults of
			// this reading are none of the page's business.
			s := tank.ParseSetup(&typed.Form{Units: reads(r), Get: func(name string) string { return strings.Join(f.Form.Values[name], "\n") }}, n.Setup)
			return view.TankSetupBody(view.TankSetup{
				RecordForm: f, Volume: volumeLines(s, reads(r)),
				Substrates: choices(tank.Substrates), Plantings: choices(tank.Plantings), Topoffs: choices(tank.Topoffs),
			}), nil
		},
	}
}
