// Package webtest starts the real router on a database of the test's own, or on
// one that always fails, and reads the pages that come back. Only tests import
// it.
package webtest

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/alexedwards/scs/pgxstore"

	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/store/storetest"
	"scaperound/web"
)

// Password is that of everybody whom Prepare makes.
const Password = "moss on the weir"

// Site is a running house with a shop, an owner and a technician in it.
type Site struct {
	URL        string // scheme and host, no slash at the end
	DB         *store.DB
	Owner      staff.Person
	Technician staff.Person
	Log        *Log  // what the server logged
	Line       *Line // cut it to take the signal away

	meddler meddler
}

// A Meddling stands before the house and answers in its place, or hands on to it.
type Meddling func(w http.ResponseWriter, r *http.Request, house http.Handler)

type meddler struct {
	house http.Handler
	with  atomic.Pointer[Meddling]
}

func (m *meddler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if f := m.with.Load(); f != nil {
		(*f)(w, r, m.house)
		return
	}
	m.house.ServeHTTP(w, r)
}

// Meddle puts something before the house, as a bad proxy or a bad day does; nil
// takes it away.
func (s *Site) Meddle(with Meddling) {
	if with == nil {
		s.meddler.with.Store(nil)
		return
	}
	s.meddler.with.Store(&with)
}

// CutAfter lets the house do what is asked and breaks off instead of answering:
// it is done, and nobody hears of it.
func CutAfter(w http.ResponseWriter, r *http.Request, house http.Handler) {
	house.ServeHTTP(httptest.NewRecorder(), r)
	panic(http.ErrAbortHandler)
}

// hashed is the hash of Password, made once for a process.
var hashed = sync.OnceValues(func() (string, error) { return web.HashPassword(Password) })

// Prepared is who Prepare put into a database.
type Prepared struct{ Owner, Technician staff.Person }

// Prepare makes a shop with an owner and a technician.
func Prepare(t testing.TB, db *store.DB) (p Prepared) {
	t.Helper()
	hash, err := hashed()
	if err != nil {
		t.Fatal(err)
	}
	err = db.Tx(context.Background(), func(ctx context.Context, tx store.Tx) error {
		err := tx.MakeShop(ctx, shop.Settings{
			Name: "Fernweir Aquascapes", Zone: "Europe/Dublin", Locale: "en-IE", Units: say.Metric,
			Phone: "+353 1 555 0100", Paper: shop.A4, ShowFigures: true,
		})
		if err != nil {
			return err
		}
		if p.Owner, err = tx.AddPerson(ctx, "", staff.Draft{Name: "Maren Tolland", Email: "maren@fernweir.example", Role: staff.Owner}, hash); err != nil {
			return err
		}
		p.Technician, err = tx.AddPerson(ctx, "", staff.Draft{Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Technician}, hash)
		return err
	})
	if err != nil {
		t.Fatalf("make the test's shop: %v", err)
	}
	return p
}

// Start serves a shop with an owner and a technician.
func Start(t testing.TB, opts ...store.Option) *Site {
	t.Helper()
	db := storetest.New(t, opts...)
	p := Prepare(t, db)
	s := Serve(t, db, nil)
	s.Owner, s.Technician = p.Owner, p.Technician
	return s
}

// StartEmpty serves a database that nobody has gone through the first start of.
func StartEmpty(t testing.TB, opts ...store.Option) *Site {
	t.Helper()
	return Serve(t, storetest.New(t, opts...), nil)
}

// StartFailing serves a database that has gone away: every call of the store
// fails. Nobody can sign in there; a session begun before can be carried over
// with Visitor.CarryTo.
func StartFailing(t testing.TB) *Site {
	t.Helper()
	db := storetest.New(t)
	db.Close()
	return Serve(t, db, nil)
}

// Serve serves a database that the test has prepared. change may alter the
// configuration; nil leaves it.
func Serve(t testing.TB, db *store.DB, change func(*web.Config)) *Site {
	t.Helper()
	s := &Site{DB: db, Log: &Log{}}
	server := httptest.NewUnstartedServer(nil)
	s.Line = newLine(server.Listener)
	server.Listener = s.Line
	public := &url.URL{Scheme: "http", Host: server.Listener.Addr().String()}
	cfg := web.Config{
		Public: public, Store: db, Sessions: pgxstore.NewWithCleanupInterval(db.Pool(), 0),
		Log: slog.New(slog.NewTextHandler(s.Log, &slog.HandlerOptions{Level: slog.LevelDebug})),
	}
	if change != nil {
		change(&cfg)
	}
	h, err := web.New(cfg)
	if err != nil {
		t.Fatalf("make the router: %v", err)
	}
	s.meddler.house = h
	server.Config.Handler = &s.meddler
	server.Config.ErrorLog = slog.NewLogLogger(slog.NewTextHandler(s.Log, nil), slog.LevelError)
	server.Start()
	t.Cleanup(server.Close)
	s.URL = server.URL
	return s
}

// Log keeps what the server logged.
type Log struct {
	mu   sync.Mutex
	text []byte
}

func (l *Log) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.text = append(l.text, b...)
	return len(b), nil
}

// String is everything logged so far.
func (l *Log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return string(l.text)
}

// read reads a whole answer.
func read(t testing.TB, res *http.Response) []byte {
	t.Helper()
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatalf("read the answer: %v", err)
	}
	return b
}
