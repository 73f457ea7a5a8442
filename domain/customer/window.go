package customer

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

// Window is a time in which the shop may come: local wall time, From included
// and To not. A site without any window may be visited at any working hour; a
// site with some is closed on the weekdays that have none.
type Window struct {
	Weekday int           // 1 is Monday, 7 is Sunday (ISO 8601)
	From    q.MinuteOfDay // 0 to 1439
	To      q.MinuteOfDay // 1 to 1440; 1440 is midnight at the day's end
}

// WindowField is the name of the form's field for a weekday.
func WindowField(weekday int) string { return "window." + strconv.Itoa(weekday) }

// maxWindows is the most windows of one weekday.
const maxWindows = 4

// parseWindows reads the seven fields, each a line such as "9-12, 14:00-17:30".
func parseWindows(fs *fault.Fields, get Fields) []Window {
	out := []Window{}
	for day := 1; day <= 7; day++ {
		name := WindowField(day)
		ws, why := ParseWindows(day, get(name))
		if why != "" {
			fs.Add(name, fault.NotDate, "%s", why)
		}
		out = append(out, ws...)
	}
	return out
}

// ParseWindows reads the times of one weekday, in order. Where it cannot, why
// is a sentence for the person.
func ParseWindows(weekday int, text string) (ws []Window, why string) {
	s := strings.NewReplacer("–", "-", "—", "-", "−", "-", " to ", "-", " until ", "-", " and ", ",", ";", ",", "h", ":").Replace(strings.ToLower(text))
	for _, part := range strings.Split(s, ",") {
		part = strings.Join(strings.Fields(part), "")
		if part == "" {
			continue
		}
		a, b, two := strings.Cut(part, "-")
		from, ok1 := clock(a)
		to, ok2 := clock(b)
		switch {
		case !two || !ok1 || !ok2:
			return nil, fmt.Sprintf("“%s” is not a time span; write it like 9-12 or 14:00-17:30.", short(strings.TrimSpace(text)))
		case from >= to:
			return nil, fmt.Sprintf("“%s” ends before it begins.", short(part))
		}
		ws = append(ws, Window{Weekday: weekday, From: from, To: to})
	}
	slices.SortFunc(ws, func(a, b Window) int { return int(a.From) - int(b.From) })
	for i := 1; i < len(ws); i++ {
		if ws[i].From < ws[i-1].To {
			return nil, fmt.Sprintf("%s and %s overlap; write them as one.", ws[i-1], ws[i])
		}
	}
	if len(ws) > maxWindows {
		return nil, fmt.Sprintf("At most %d time spans a day are kept.", maxWindows)
	}
	return ws, ""
}

// clock reads 9, 9:30, 9.30, 0930, 5pm and 24:00, the end of the day.
func clock(s string) (q.MinuteOfDay, bool) {
	noon := -1
	for suffix, n := range map[string]int{"am": 0, "pm": 12} {
		if rest, ok := strings.CutSuffix(s, suffix); ok {
			s, noon = rest, n
		}
	}
	hours, minutes, _ := strings.Cut(strings.ReplaceAll(s, ".", ":"), ":")
	if minutes == "" && (len(hours) == 3 || len(hours) == 4) {
		hours, minutes = hours[:len(hours)-2], hours[len(hours)-2:]
	}
	h, err := strconv.ParseUint(hours, 10, 8)
	if err != nil || len(hours) > 2 {
		return 0, false
	}
	m := uint64(0)
	if minutes != "" {
		if m, err = strconv.ParseUint(minutes, 10, 8); err != nil || len(minutes) != 2 {
			return 0, false
		}
	}
	if noon >= 0 {
		if h < 1 || h > 12 {
			return 0, false
		}
		h = h%12 + uint64(noon)
	}
	if m > 59 || h > 24 || h == 24 && m > 0 {
		return 0, false
	}
	return q.MinuteOfDay(h*60 + m), true
}

// String writes 09:00-12:00.
func (w Window) String() string { return w.From.String() + "-" + w.To.String() }

// WindowLine writes the windows of one weekday as ParseWindows reads them.
func WindowLine(ws []Window, weekday int) string {
	var parts []string
	for _, w := range ws {
		if w.Weekday == weekday {
			parts = append(parts, w.String())
		}
	}
	return strings.Join(parts, ", ")
}

// Weekday is the name of an ISO weekday: 1 is Monday.
func Weekday(day int) string { return time.Weekday(day % 7).String() }
