package customer

import (
	"time"

	"scaperound/domain/fault"
)

// Incident is damage or danger at a site: a leak, cracked glass, a stuck heater.
// It is written down for the shop alone.
type Incident struct {
	ID         string
	Site       string
	Tank       string // empty where no one tank is meant
	TankName   string
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
	var fs fault.Fields
	i := Incident{What: text(&fs, get, "what", MaxText)}
	if i.What == "" && len(fs) == 0 {
		fs.Add("what", fault.Missing, "Write down what was found.")
	}
	i.Done = text(&fs, get, "done", MaxText)
	i.Told = text(&fs, get, "told", MaxText)
	return i, fs
}
