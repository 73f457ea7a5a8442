package customer

import (
	"time"

	"scaperound/domain/fault"
	"scaperound/domain/typed"
)

// Incident is damage or danger at a site: a leak, cracked glass, a stuck heater.
// It is written down for the shop alone.
type Incident struct {
	ID         string
	Site       string
	Tank       string // empty where no one tank is meant
	TankName   string
	Kind       string // leak, cracked and so on; the kinds are triage's
	NoticedAt  time.Time
	What       string
	Done       string
	Told       string // who was told, and when
	Staff      string // name of who wrote it
	RecordedAt time.Time
}

// ParseIncident reads the fields what, done and told. When it was noticed and
// where are the caller's to set.
func ParseIncident(get Fields) (Incident, fault.Fields) {
	f := typed.Form{Get: get}
	i := Incident{What: f.Text("what", MaxText)}
	if i.What == "" {
		f.Faults.Add("what", fault.Missing, "Write down what was found.")
	}
	i.Done, i.Told = f.Text("done", MaxText), f.Text("told", MaxText)
	return i, f.Faults
}
