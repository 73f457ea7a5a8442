package due

import (
	"scaperound/domain/care"
	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Facts are all that a plan is made from, as of one moment.
type Facts struct {
	From  q.Date // the first day, a Monday
	Days  int    // seven for a week
	Today q.Date
	// Now is the time of today; blank: today is planned as if it had not begun.
	Now     q.Opt[q.MinuteOfDay]
	Reached []Reached // stops of today, in the order of arriving; see Reach
	Tanks   []Tank    // those that can fall due
	Sites   []Site
	// People are those who work at the shop, in the order of the page.
	People   []Person
	Vans     []Van
	Roads    Roads
	Promises []Promise // of these days
}

// Person is a member of the staff as planning sees them.
type Person struct {
	ID, Name, Phone string
	Working         Working
	Leave           []Leave
}

// Site is a place with tanks as planning sees it.
type Site struct {
	ID, Name, Customer string
	Address            string
	Phones             []string
	Position           q.Opt[customer.Position]
	Parking            int // minutes from the car to the tank
	Windows            []customer.Window
	Away               []customer.Away
	Past               []PastStop // the newest first
	Archived           bool
}

// PastStop is a stop that is over, and at which somebody was inside.
type PastStop struct {
	Day     q.Date
	Minutes int      // from arriving to leaving
	Tanks   []string // those with a visit
}

// Tank is a tank that can fall due.
type Tank struct {
	ID, Name, Site string
	Agreement      tank.Agreement
	Began          q.Date        // since when that is agreed
	Last           q.Opt[q.Date] // last time somebody was there
	LastBy         string        // who, as a staff id
	Planned        q.Opt[q.Date] // the last day before From on which somebody will have been there, by what is handed out
	ApartUntil     q.Opt[q.Date] // kept apart until then, the day included
	Asks           Asks
	// WaterL is the change water to bring along in litres, Cylinders the full
	// ones.
	WaterL, Cylinders int
}

// Asks is what the judgement of a tank's last visit asks of the next.
type Asks struct {
	Urgency care.Urgency
	// LookOn is the first day on which an open task wants to be looked at.
	LookOn q.Opt[q.Date]
	// Extra is the day of an extra visit that is agreed and not made yet.
	Extra q.Opt[q.Date]
}

// AsksOf reads what a judgement and its open tasks ask; agreed is the day of an
// extra visit.
func AsksOf(a care.Assessment, agreed q.Opt[q.Date]) Asks {
	out := Asks{Urgency: a.Urgency, Extra: agreed}
	for _, t := range a.Tasks {
		if t.LookOn.OK && t.Who == care.Technician && (!out.LookOn.OK || t.LookOn.V < out.LookOn.V) {
			out.LookOn = t.LookOn
		}
	}
	return out
}

// Water is the change water to bring for a visit: the osmosis water of the
// judgement's recipe, in whole litres rounded up. Tap water comes from the tap.
func Water(a care.Assessment) int {
	if !a.Recipe.RO.OK {
		return 0
	}
	whole := int(a.Recipe.RO.V)
	if float64(a.Recipe.RO.V) > float64(whole) {
		whole++
	}
	return whole
}

// Cylinders is how many full ones the judgement asks to bring.
func Cylinders(a care.Assessment) int {
	n := 0
	for _, b := range a.Next.Bring {
		if b == "full_cylinder" {
			n++
		}
	}
	return n
}

// Tank finds a tank of the facts; nil where there is none.
func (f *Facts) Tank(id string) *Tank {
	for i := range f.Tanks {
		if f.Tanks[i].ID == id {
			return &f.Tanks[i]
		}
	}
	return nil
}

// Site finds a site of the facts; nil where there is none.
func (f *Facts) Site(id string) *Site {
	for i := range f.Sites {
		if f.Sites[i].ID == id {
			return &f.Sites[i]
		}
	}
	return nil
}

// Person finds one of the facts' people; nil where there is none.
func (f *Facts) Person(id string) *Person {
	for i := range f.People {
		if f.People[i].ID == id {
			return &f.People[i]
		}
	}
	return nil
}
