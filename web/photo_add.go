package web

import (
	"crypto/sha256"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"time"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/web/photo"
	"scaperound/web/view"
)

const (
	// photoBody is the largest post: more than the largest file that is kept,
	// so that one that is somewhat too large is refused in words, not by
	// breaking off.
	photoBody = 4 * photo.MaxBytes
	// photoTime is how long a weak signal may take.
	photoTime    = 5 * time.Minute
	photoFields  = 20
	photoField   = 1 << 10 // bytes
	pictureField = "picture"
)

// photoJSON is the answer to a script.
type photoJSON struct {
	Photo  string `json:"photo"`
	Replay bool   `json:"replay"`
	To     string `json:"to"`
}

// add keeps one photograph of a tank. The same one again gets the same answer.
func (p photoPages) add(w http.ResponseWriter, r *http.Request) error {
	leave, err := p.room.place(r.Context(), p.room.received)
	if err != nil {
		return err
	}
	defer leave()
	// Where the connection knows no deadlines the server's own hold.
	c := http.NewResponseController(w)
	_ = c.SetReadDeadline(time.Now().Add(photoTime))
	_ = c.SetWriteDeadline(time.Now().Add(photoTime + time.Minute))
	values, file, err := readPhotoPost(r)
	if err != nil {
		return err
	}
	if by := values.Get("staff"); by != "" && !strings.EqualFold(by, who(r).Person.ID) {
		return &fault.Error{Kind: fault.Conflict, Code: "other-person",
			Msg: "This photograph was taken by somebody else on this device. Sign in as them, and it is sent; until then it is kept."}
	}
	id, replay, err := p.keep(r, values, file)
	if err != nil {
		return p.refused(w, r, values, err)
	}
	to := photosPath(r.PathValue("tank"))
	if wantsJSON(r) {
		status := http.StatusCreated
		if replay {
			status = http.StatusOK
		}
		return p.json(w, r, status, photoJSON{Photo: id, Replay: replay, To: to})
	}
	return p.done(w, r, to, view.Notice{Text: "The photograph is kept.", Undo: &view.Post{Label: "Take it back", Action: photoPath(id) + "/withdraw"}})
}

// keep makes the prints of a file and stores them.
func (p photoPages) keep(r *http.Request, values url.Values, file []byte) (id string, replay bool, err error) {
	post, fs := tank.ParsePhoto(fieldsOf(values), visit.IsID)
	if file == nil {
		fs.Add(pictureField, fault.Missing, "Take a photograph or choose one first.")
	}
	if err := fs.Err(); err != nil {
		return "", false, err
	}
	sent := sha256.Sum256(file)
	replay, err = p.store.PhotoSeen(r.Context(), post.ID, sent[:])
	if fault.Is(err, fault.Conflict) && !wantsJSON(r) {
		// A page that the browser had kept was used for a second picture.
		post.ID, err = newID(p.cfg.Now()), nil
	}
	if err != nil || replay {
		return post.ID, replay, err
	}
	prints, taken, err := p.print(r, file)
	if err != nil {
		return "", false, err
	}
	zone, now := local(r).Zone, p.cfg.Now()
	at, says := taken.In(zone)
	sum := sha256.Sum256(prints.Large)
	replay, err = p.store.AddPhoto(r.Context(), tank.Picture{
		Photo: tank.Photo{
			ID: post.ID, Tank: r.PathValue("tank"), Visit: post.Visit, Order: post.Order, Purpose: post.Purpose, Staff: who(r).Person.ID,
			TakenAt: post.TakenAt(now, q.Opt[time.Time]{V: at, OK: says}, func(d q.Date) time.Time { return wall(zone, d, 12*60) }),
			SHA256:  sum[:], Width: prints.Width, Height: prints.Height,
		},
		Large: prints.Large, Small: prints.Small, SentSHA256: sent[:],
	})
	return post.ID, replay, err
}

func (p photoPages) print(r *http.Request, file []byte) (photo.Prints, photo.Taken, error) {
	leave, err := p.room.place(r.Context(), p.room.printed)
	if err != nil {
		return photo.Prints{}, photo.Taken{}, err
	}
	defer leave()
	prints, taken, err := photo.Read(file)
	if f := fault.Of(err); f != nil && len(f.Fields) == 0 && f.Msg != "" {
		f.Fields.Add(pictureField, f.Kind.String(), "%s", f.Msg)
	}
	return prints, taken, err
}

// refused shows the page again to a person; the file has to be chosen anew,
// because no browser fills that in.
func (p photoPages) refused(w http.ResponseWriter, r *http.Request, values url.Values, err error) error {
	f := fault.Of(err)
	if wantsJSON(r) || f.Kind != fault.Invalid && f.Kind != fault.Conflict && f.Kind != fault.TooLarge {
		return err
	}
	fields := f.Fields
	if len(fields) == 0 {
		fields.Add(pictureField, f.Kind.String(), "%s", f.Msg)
	}
	note(r).err = err
	return p.draw(w, r, statuses[f.Kind], view.Form{Values: values, Faults: fields})
}

// readPhotoPost reads the fields of a post and its one file; a nil file where
// none was chosen.
func readPhotoPost(r *http.Request) (url.Values, []byte, error) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		return nil, nil, fault.New(fault.Malformed, "This takes a form with a file (multipart/form-data).")
	}
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, nil, fault.Wrap(fault.Malformed, err, "The form cannot be read.")
	}
	values, file := url.Values{}, []byte(nil)
	for n := 0; ; n++ {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return values, file, nil
		}
		if err != nil {
			return nil, nil, cutShort(err)
		}
		if n >= photoFields {
			return nil, nil, fault.New(fault.Malformed, "The form has more fields than are known.")
		}
		if part.FormName() != pictureField {
			err = readField(values, part)
		} else if file == nil {
			file, err = readFile(part)
		} else {
			err = fault.New(fault.Malformed, "One photograph at a time.")
		}
		if err != nil {
			return nil, nil, err
		}
	}
}

func readField(values url.Values, part *multipart.Part) error {
	text, err := io.ReadAll(io.LimitReader(part, photoField+1))
	switch {
	case err != nil:
		return cutShort(err)
	case len(text) > photoField:
		return fault.New(fault.TooLarge, "A field of the form is too long.")
	case !utf8.Valid(text) || strings.ContainsRune(string(text), 0):
		return fault.New(fault.Malformed, "A field holds bytes that are no text.")
	}
	values.Add(part.FormName(), string(text))
	return nil
}

// readFile reads the file; nil where the field was left empty. What is too
// large is read on and thrown away: who is still sending hears no answer.
func readFile(part *multipart.Part) ([]byte, error) {
	file, err := io.ReadAll(io.LimitReader(part, photo.MaxBytes+1))
	if err == nil && len(file) > photo.MaxBytes {
		_, err = io.Copy(io.Discard, part)
	}
	switch {
	case err != nil:
		return nil, cutShort(err)
	case len(file) == 0 && part.FileName() == "":
		return nil, nil
	}
	return file, nil
}

func cutShort(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return photo.TooLarge()
	}
	return fault.Wrap(fault.Malformed, err, "The photograph did not arrive whole. Please send it again.")
}
