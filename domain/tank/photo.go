package tank

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// PhotoPurpose is why a photograph was taken.
type PhotoPurpose string

// The purposes of a photograph.
const (
	PhotoBefore  PhotoPurpose = "before"  // the tank, before anything is touched
	PhotoAfter   PhotoPurpose = "after"   // the tank, after the work
	PhotoOfTank  PhotoPurpose = "visit"   // the tank, in between or at no visit
	PhotoCabinet PhotoPurpose = "cabinet" // what is below the tank: stands beside the pinned lines
	PhotoHarm    PhotoPurpose = "death"   // a death or damage: never leaves the shop
)

// PhotoWords is a purpose with what a person reads.
type PhotoWords struct {
	ID          PhotoPurpose
	Title, Hint string
}

// PhotoPurposes are all of them, in the order of a form.
var PhotoPurposes = []PhotoWords{
	{PhotoBefore, "Before touching anything", ""},
	{PhotoAfter, "After the work", ""},
	{PhotoOfTank, "Of the tank", ""},
	{PhotoCabinet, "The cabinet", "stands beside the pinned lines"},
	{PhotoHarm, "A death or damage", "inside only, never on a sheet"},
}

// Title is the purpose in words.
func (p PhotoPurpose) Title() string {
	for _, x := range PhotoPurposes {
		if x.ID == p {
			return x.Title
		}
	}
	return string(p)
}

// Shows reports whether the photograph shows the tank as it stands, so that two
// of different days can be held side by side and may go on a care sheet.
func (p PhotoPurpose) Shows() bool { return p == PhotoBefore || p == PhotoAfter || p == PhotoOfTank }

// Photo is what is known of a photograph. The picture itself is read apart.
type Photo struct {
	ID         string // made by the device that took it
	Tank       string
	Visit      string // empty: of no visit
	VisitHere  bool   // the visit has arrived; its photographs may be faster
	Order      int    // within the visit
	Purpose    PhotoPurpose
	TakenAt    time.Time
	ReceivedAt time.Time
	Staff      string // id of who took it
	StaffName  string
	SHA256     []byte // of the large print
	Width      int    // of the large print, pixels
	Height     int
	Withdrawn  bool
	Erased     bool // its pictures are gone for good
}

// Picture is a photograph with its two prints, both JPEG.
type Picture struct {
	Photo
	Large, Small []byte
	SentSHA256   []byte // of the file as it was sent
}

// PhotoPost is what is posted beside a picture.
type PhotoPost struct {
	ID, Visit string
	Order     int
	Purpose   PhotoPurpose
	Taken     q.Opt[time.Time] // by the device's clock
	Sent      q.Opt[time.Time] // by the device's clock
	Day       q.Opt[q.Date]    // typed by hand
}

// maxPhotoOrder is the highest number within a visit.
const maxPhotoOrder = 9999

// ParsePhoto reads the fields photo, visit, ord, purpose, taken, sent and day.
// isID tells a key from other text.
func ParsePhoto(get typed.Fields, isID func(string) bool) (PhotoPost, fault.Fields) {
	var fs fault.Fields
	p := PhotoPost{ID: strings.ToLower(get("photo")), Visit: strings.ToLower(get("visit")), Purpose: PhotoPurpose(get("purpose"))}
	if !isID(p.ID) {
		fs.Add("photo", fault.Impossible, "The photograph came without its number. Load the page again.")
	}
	if p.Visit != "" && !isID(p.Visit) {
		fs.Add("visit", fault.Impossible, "The photograph names a visit that cannot be.")
	}
	if !slices.ContainsFunc(PhotoPurposes, func(x PhotoWords) bool { return x.ID == p.Purpose }) {
		fs.Add("purpose", fault.NotChoice, "Say what the photograph shows.")
	}
	if s := get("ord"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 0 || n > maxPhotoOrder {
			fs.Add("ord", fault.Impossible, "The photograph’s place among the others cannot be.")
		}
		p.Order = n
	}
	for _, x := range []struct {
		name string
		to   *q.Opt[time.Time]
	}{{"taken", &p.Taken}, {"sent", &p.Sent}} {
		s := get(x.name)
		if s == "" {
			continue
		}
		t, ok := q.ParseInstant(s)
		if !ok {
			fs.Add(x.name, fault.NotDate, "The device’s time cannot be read.")
			continue
		}
		*x.to = q.Some(t)
	}
	if s := strings.TrimSpace(get("day")); s != "" {
		d, ok := q.ParseDate(s)
		if !ok {
			fs.Add("day", fault.NotDate, "That is no date. It looks like 2026-11-24.")
		}
		p.Day = q.Opt[q.Date]{V: d, OK: ok}
	}
	return p, fs
}

// largestSkew is how far a device's clock may be off before it is set right.
const largestSkew = 2 * time.Minute

// oldestPhoto is before any tank of the shop.
var oldestPhoto = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// TakenAt settles when the photograph was taken: by the device's clock, set
// right where it is off; else on the day that was typed, at noon of the shop;
// else when the picture itself says; else now. What lies ahead of now, or before
// there were such pictures, is now. noon is the instant of a day's noon.
func (p PhotoPost) TakenAt(received time.Time, inPicture q.Opt[time.Time], noon func(q.Date) time.Time) time.Time {
	at := received
	switch {
	case p.Day.OK:
		at = noon(p.Day.V)
		if at.After(received) && at.Sub(received) <= 24*time.Hour {
			at = received // today, in the morning
		}
	case p.Taken.OK:
		at = p.Taken.V
		if off := received.Sub(p.Sent.V); p.Sent.OK && (off > largestSkew || off < -largestSkew) {
			at = at.Add(off)
		}
	case inPicture.OK:
		at = inPicture.V
	}
	if at.After(received) || at.Before(oldestPhoto) {
		return received
	}
	return at
}
