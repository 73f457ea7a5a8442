package web

import (
	"errors"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// form reads the fields of a post. It returns Malformed for what is no form and
// TooLarge for more than the route takes.
func (s *shell) form(r *http.Request) (url.Values, error) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "application/x-www-form-urlencoded" {
		return nil, fault.New(fault.Malformed, "This takes the fields of a form (application/x-www-form-urlencoded).")
	}
	if err := r.ParseForm(); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return nil, fault.Wrap(fault.TooLarge, err, "That is more than is taken at once: at most %d KiB.", large.Limit/1024)
		}
		return nil, fault.Wrap(fault.Malformed, err, "The form did not arrive whole. Please send it again.")
	}
	for name, values := range r.PostForm {
		for _, v := range append(values, name) {
			// Postgres keeps neither, and no keyboard types them.
			if !utf8.ValidString(v) || strings.ContainsRune(v, 0) {
				return nil, fault.New(fault.Malformed, "A field holds bytes that are no text.")
			}
		}
	}
	note(r).unseen = takeOutUnseen(r.PostForm)
	return r.PostForm, nil
}

// takeOutUnseen takes the signs that nobody can see out of what was typed: they
// come along when text is copied, and would turn a name around or hide it from
// the search. Passwords stay as they are.
func takeOutUnseen(values url.Values) (found bool) {
	for name, all := range values {
		if strings.Contains(name, "password") {
			continue
		}
		for i, v := range all {
			if typed.HasUnseen(v) {
				all[i], found = typed.WithoutUnseen(v), true
			}
		}
	}
	return found
}

// tookOut is the sentence about it.
const tookOut = "Signs that cannot be seen had come along with the text; they were taken out."

// rowVersion is the version that the form was made from; 0 where it has none.
func rowVersion(values url.Values) int {
	n, err := strconv.Atoi(values.Get("version"))
	if err != nil {
		return 0
	}
	return n
}

// again draws a form anew, with what was typed and every fault, where err is the
// person's to mend. A script gets the fields as JSON; any other error goes on.
func (s *shell) again(w http.ResponseWriter, r *http.Request, err error, values url.Values, draw func(view.Form) (view.Frame, templ.Component)) error {
	f := fault.Of(err)
	if wantsJSON(r) || f.Kind != fault.Invalid && f.Kind != fault.Conflict {
		return err
	}
	fields := f.Fields
	if len(fields) == 0 {
		fields.Add("", f.Kind.String(), "%s", f.Msg)
	}
	if note(r).unseen {
		fields = append(slices.Clone(fields), fault.Field{Kind: fault.Impossible, Text: tookOut})
	}
	note(r).err = err
	frame, body := draw(view.Form{Values: values, Faults: fields})
	return s.page(w, r, statuses[f.Kind], frame, body)
}

// done answers a post that did what it should: the next page for a person, with
// a notice there, and JSON for a script.
func (s *shell) done(w http.ResponseWriter, r *http.Request, to string, n view.Notice) error {
	if note(r).unseen {
		n.Text = strings.TrimSpace(n.Text + " " + tookOut)
	}
	if wantsJSON(r) {
		return s.json(w, r, http.StatusOK, map[string]string{"text": n.Text, "to": to})
	}
	if n.Text != "" {
		if err := s.leaveNotice(w, r, n); err != nil {
			return err
		}
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
