package share

// CalendarLink is the address under which a calendar program reads a person's
// round. Its token is Key.Token of ID and Generation.
type CalendarLink struct {
	ID, Person string
	Generation int
}
