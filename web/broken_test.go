package web_test

import (
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/alexedwards/scs/pgxstore"

	"scaperound/domain/fault"
	"scaperound/store/storetest"
	"scaperound/web"
	"scaperound/web/webtest"
)

// ask sends one request to a house with one more route in it.
func ask(t *testing.T, accept string, h func(http.ResponseWriter, *http.Request) error) (*httptest.ResponseRecorder, *webtest.Log) {
	t.Helper()
	db := storetest.New(t)
	log := &webtest.Log{}
	house, err := web.NewWith(web.Config{
		Public: &url.URL{Scheme: "http", Host: "127.0.0.1:8420"}, Store: db, Sessions: pgxstore.NewWithCleanupInterval(db.Pool(), 0),
		Log: slog.New(slog.NewTextHandler(log, nil)),
	}, "/broken", web.Anyone, h)
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest("GET", "http://127.0.0.1:8420/broken", nil)
	r.Header.Set("Accept", accept)
	w := httptest.NewRecorder()
	house.ServeHTTP(w, r)
	return w, log
}

func TestOurOwnFaultsShowNothingButARequestID(t *testing.T) {
	broken := map[string]func(http.ResponseWriter, *http.Request) error{
		"an error": func(http.ResponseWriter, *http.Request) error { return errors.New("the inner workings") },
		"a panic":  func(http.ResponseWriter, *http.Request) error { panic("the inner workings") },
		"a wrapped one": func(http.ResponseWriter, *http.Request) error {
			return fault.Wrap(fault.Internal, errors.New("the inner workings"), "")
		},
	}
	for name, h := range broken {
		for _, accept := range []string{"text/html", "application/json"} {
			w, log := ask(t, accept, h)
			id := w.Header().Get("X-Request-Id")
			if w.Code != http.StatusInternalServerError || id == "" || !strings.Contains(w.Body.String(), id) {
				t.Errorf("%s, %s: %d, id %q in\n%s", name, accept, w.Code, id, w.Body)
			}
			if strings.Contains(w.Body.String(), "inner workings") {
				t.Errorf("%s, %s: shown: %s", name, accept, w.Body)
			}
			if !strings.Contains(log.String(), "inner workings") || !strings.Contains(log.String(), id) {
				t.Errorf("%s, %s: not logged: %s", name, accept, log)
			}
		}
	}
}

func TestEachKindOfFaultHasItsStatus(t *testing.T) {
	for kind, want := range map[fault.Kind]int{
		fault.Malformed: 400, fault.Forbidden: 403, fault.NotFound: 404, fault.Conflict: 409, fault.TooLarge: 413,
		fault.Invalid: 422, fault.Unavailable: 503,
	} {
		w, _ := ask(t, "text/html", func(http.ResponseWriter, *http.Request) error { return fault.New(kind, "Said to a person.") })
		if w.Code != want || !strings.Contains(w.Body.String(), "Said to a person.") {
			t.Errorf("%s: %d, want %d\n%s", kind, w.Code, want, w.Body)
		}
		if kind == fault.Unavailable && w.Header().Get("Retry-After") == "" {
			t.Error("does not say when to come back")
		}
	}
}

func TestHalfAnAnswerIsBrokenOff(t *testing.T) {
	defer func() {
		if recover() != http.ErrAbortHandler {
			t.Error("an answer that failed on its way looks whole")
		}
	}()
	ask(t, "text/html", func(w http.ResponseWriter, _ *http.Request) error {
		_, _ = w.Write([]byte("the first half"))
		return errors.New("the disk is gone")
	})
}

func TestARouteWithoutADecisionKeepsTheHouseShut(t *testing.T) {
	db := storetest.New(t)
	_, err := web.NewWith(web.Config{Public: &url.URL{Scheme: "http", Host: "localhost"}, Store: db, Sessions: pgxstore.NewWithCleanupInterval(db.Pool(), 0)},
		"/undecided", 0, func(http.ResponseWriter, *http.Request) error { return nil })
	if err == nil || !strings.Contains(err.Error(), "/undecided") {
		t.Errorf("err = %v", err)
	}
}

func TestHashingIsBounded(t *testing.T) {
	hash, err := web.HashPassword(webtest.Password)
	if err != nil {
		t.Fatal(err)
	}
	h := web.NewHasher(20 * time.Millisecond)
	if ok, err := h.Matches(t.Context(), webtest.Password, hash); !ok || err != nil {
		t.Errorf("the right password: %v, %v", ok, err)
	}
	if ok, err := h.Matches(t.Context(), webtest.Password+" ", hash); ok || err != nil {
		t.Errorf("a wrong password: %v, %v", ok, err)
	}
	if ok, err := h.Matches(t.Context(), webtest.Password, ""); ok || err != nil {
		t.Errorf("nobody's password: %v, %v", ok, err)
	}
	release := h.Fill()
	if _, err := h.Matches(t.Context(), webtest.Password, hash); !fault.Is(err, fault.Unavailable) {
		t.Errorf("with every place taken: %v", err)
	}
	release()
	if ok, err := h.Matches(t.Context(), webtest.Password, hash); !ok || err != nil {
		t.Errorf("afterwards: %v, %v", ok, err)
	}
}
