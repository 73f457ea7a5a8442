package webtest

import (
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"strings"
	"testing"

	"scaperound/domain/staff"
)

// Visitor is a browser: it keeps cookies and follows no redirect by itself.
type Visitor struct {
	t      testing.TB
	site   *Site
	client *http.Client
	cookie *http.Cookie
}

// Visitor opens a fresh browser in which nobody is signed in.
func (s *Site) Visitor(t testing.TB) *Visitor {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	return &Visitor{t: t, site: s, client: client}
}

// SignIn opens a fresh browser and signs a person of Start in.
func (s *Site) SignIn(t testing.TB, p staff.Person) *Visitor {
	t.Helper()
	v := s.Visitor(t)
	if got := v.Post("/sign-in", "email", p.Email, "password", Password); got.Status != http.StatusSeeOther {
		t.Fatalf("sign in as %s: %d\n%s", p.Email, got.Status, got.Text("main"))
	}
	return v
}

// Get opens a page.
func (v *Visitor) Get(path string) *Answer { v.t.Helper(); return v.Do(v.request("GET", path, nil)) }

// Post sends the fields of a form: name, value, name, value.
func (v *Visitor) Post(path string, pairs ...string) *Answer {
	v.t.Helper()
	return v.Do(v.request("POST", path, values(pairs)))
}

// Script sends a request that asks for JSON; without pairs it is a GET.
func (v *Visitor) Script(method, path string, pairs ...string) *Answer {
	v.t.Helper()
	var body url.Values
	if method != "GET" {
		body = values(pairs)
	}
	r := v.request(method, path, body)
	r.Header.Set("Accept", "application/json")
	return v.Do(r)
}

// Follow opens the page that an answer leads to.
func (v *Visitor) Follow(a *Answer) *Answer {
	v.t.Helper()
	to := a.Header.Get("Location")
	if to == "" {
		v.t.Fatalf("%d leads nowhere", a.Status)
	}
	return v.Get(to)
}

// Do sends a request of the test's own making.
func (v *Visitor) Do(r *http.Request) *Answer {
	v.t.Helper()
	res, err := v.client.Do(r)
	if err != nil {
		v.t.Fatalf("%s: %v", r.Method, err)
	}
	for _, c := range res.Cookies() {
		v.cookie = c
	}
	return answer(v.t, res, read(v.t, res))
}

// Request makes a request that Do can send; body nil for none.
func (v *Visitor) Request(method, path string, pairs ...string) *http.Request {
	v.t.Helper()
	if len(pairs) == 0 && method == "GET" {
		return v.request(method, path, nil)
	}
	return v.request(method, path, values(pairs))
}

func (v *Visitor) request(method, path string, body url.Values) *http.Request {
	v.t.Helper()
	var r *http.Request
	var err error
	if body == nil {
		r, err = http.NewRequest(method, v.site.URL+path, nil)
	} else {
		r, err = http.NewRequest(method, v.site.URL+path, strings.NewReader(body.Encode()))
	}
	if err != nil {
		v.t.Fatal(err)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	r.Header.Set("Accept", "text/html")
	return r
}

// SetCookie is the last cookie that the site set, as it set it.
func (v *Visitor) SetCookie() *http.Cookie {
	v.t.Helper()
	if v.cookie == nil {
		v.t.Fatal("no cookie was set")
	}
	return v.cookie
}

// Cookies are those that the site has set.
func (v *Visitor) Cookies() []*http.Cookie {
	u, err := url.Parse(v.site.URL)
	if err != nil {
		v.t.Fatal(err)
	}
	return v.client.Jar.Cookies(u)
}

// CarryTo takes the cookies to another site: a browser whose server has lost
// its database meanwhile.
func (v *Visitor) CarryTo(s *Site) *Visitor {
	v.t.Helper()
	other := s.Visitor(v.t)
	u, err := url.Parse(s.URL)
	if err != nil {
		v.t.Fatal(err)
	}
	other.client.Jar.SetCookies(u, v.Cookies())
	return other
}

func values(pairs []string) url.Values {
	if len(pairs)%2 != 0 {
		panic("webtest: fields come in pairs of name and value")
	}
	out := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		out.Add(pairs[i], pairs[i+1])
	}
	return out
}
