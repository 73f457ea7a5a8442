package web

import (
	"maps"
	"net/url"
	"slices"
	"strings"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// fieldsOf hands typed values to the domain. Several of one name, as of
// confirm, are joined with line ends.
func fieldsOf(values url.Values) func(string) string {
	return func(name string) string { return strings.Join(values[name], "\n") }
}

// formOf is a form that shows a record: now is what its fields say.
func formOf(now map[string]string) view.Form {
	return view.Form{Values: valuesOf(now), Was: originals(now)}
}

func valuesOf(now map[string]string) url.Values {
	values := url.Values{}
	for name, v := range now {
		values.Set(name, v)
	}
	return values
}

func originals(now map[string]string) []view.Pair {
	var out []view.Pair
	for _, name := range slices.Sorted(maps.Keys(now)) {
		out = append(out, view.Pair{Name: name, Value: now[name]})
	}
	return out
}

// meanwhile settles a form that was sent again or met a change by somebody
// else. now is what the record says at this moment. A field that this person
// left alone takes the newer text; one that both changed keeps what this person
// typed, with the other beside it. Nothing is lost either way.
func meanwhile(f view.Form, now map[string]string) view.Form {
	f.Was = originals(now)
	if !slices.ContainsFunc(f.Faults, func(x fault.Field) bool { return x.Name == "" && x.Kind == fault.Conflict.String() }) {
		// Not a conflict: what was drawn the first time stays the base.
		for i, p := range f.Was {
			if v, sent := f.Values["was."+p.Name]; sent {
				f.Was[i].Value = v[0]
			}
		}
		return f
	}
	f.Values, f.Beside = maps.Clone(f.Values), map[string]string{}
	for name, newer := range now {
		typed := f.Values.Get(name)
		was, drawn := f.Values["was."+name]
		switch {
		case sameText(typed, newer):
		case drawn && sameText(typed, was[0]):
			f.Values.Set(name, newer)
			f.Beside[name] = "Changed meanwhile by somebody else. It was " + quoted(was[0]) + "."
		default:
			f.Beside[name] = "Somebody else made it " + quoted(newer) + " meanwhile."
		}
	}
	return f
}

func sameText(a, b string) bool {
	return strings.TrimSpace(strings.ReplaceAll(a, "\r\n", "\n")) == strings.TrimSpace(strings.ReplaceAll(b, "\r\n", "\n"))
}

func quoted(s string) string {
	if strings.TrimSpace(s) == "" {
		return "empty"
	}
	return "“" + s + "”"
}
