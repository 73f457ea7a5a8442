package web

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"strings"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"scaperound/domain/fault"
)

const usualBody = 1 << 20 // bytes

// router mounts the table behind what holds for every request.
func (s *shell) router() (http.Handler, error) {
	mux := chi.NewRouter()
	for _, rt := range s.routes {
		if rt.Access == 0 {
			return nil, fmt.Errorf("web: %s %s: nobody has decided who may use it", rt.Method, rt.Pattern)
		}
		h := s.answer(rt)
		mux.Method(rt.Method, rt.Pattern, h)
		if rt.Method == get {
			mux.Method(http.MethodHead, rt.Pattern, h)
		}
	}
	mux.NotFound(s.answer(route{Pattern: "(no such page)", Access: anyone, Handler: func(w http.ResponseWriter, r *http.Request) error {
		// Somebody signed in keeps their menu; who it is does not matter here.
		_ = s.recognise(w, r)
		return fault.New(fault.NotFound, "There is no such page.")
	}}))
	mux.MethodNotAllowed(s.wrongMethod(mux))

	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(s.answer(route{Pattern: "(from another site)", Access: anyone, Handler: func(http.ResponseWriter, *http.Request) error {
		return fault.New(fault.Forbidden, "This was sent from another site, so nothing was done. Open the page here and send it again.")
	}}))

	// A visit's form is large and repeats itself, and the cellar's signal is
	// weak. Static files come compressed already and pass as they are. Cookies
	// stay at home on requests from other sites, so what is compressed beside a
	// secret is never an attacker's own text.
	h := middleware.Compress(5, "text/html", "application/json")(cross.Handler(mux))
	h = s.knownHost(h)
	h = s.secured(h)
	h = s.clientAddress(h)
	return s.logged(h), nil
}

func (s *shell) wrongMethod(mux *chi.Mux) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var allowed []string
		for _, m := range []string{http.MethodGet, http.MethodHead, http.MethodPost} {
			if mux.Match(chi.NewRouteContext(), m, r.URL.Path) {
				allowed = append(allowed, m)
			}
		}
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		note(r).route = "(wrong method)"
		s.write(w, r, http.StatusMethodNotAllowed, "text/plain; charset=utf-8", []byte("This address does not answer to "+r.Method+".\n"))
	}
}

// knownHost refuses what was not sent to our public address, except the two
// questions that a supervisor asks from nearby.
func (s *shell) knownHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.ours(r.Host) && r.URL.Path != "/healthz" && r.URL.Path != "/readyz" {
			note(r).route = "(other host)"
			s.write(w, r, http.StatusMisdirectedRequest, "text/plain; charset=utf-8",
				[]byte("This server answers as "+s.cfg.Public.String()+" only.\n"))
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *shell) ours(host string) bool {
	want := s.cfg.Public
	if strings.EqualFold(host, want.Host) {
		return true
	}
	name, port := splitHost(host)
	wantPort := want.Port()
	usual := map[string]string{"http": "80", "https": "443"}[want.Scheme]
	if port == "" {
		port = usual
	}
	if wantPort == "" {
		wantPort = usual
	}
	// The machine's own names are one and the same: a person may type either.
	return port == wantPort && (strings.EqualFold(name, want.Hostname()) || loopback(name) && loopback(want.Hostname()))
}

func splitHost(host string) (name, port string) {
	if n, p, err := net.SplitHostPort(host); err == nil {
		return n, p
	}
	return strings.Trim(host, "[]"), ""
}

func loopback(name string) bool {
	if strings.EqualFold(name, "localhost") {
		return true
	}
	ip, err := netip.ParseAddr(name)
	return err == nil && ip.IsLoopback()
}

// policy is what a page may load and do. A page that needs more than this is
// wrong, not the policy.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; " +
	"form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// secured sets what every answer carries. A handler may make Cache-Control and
// Referrer-Policy stricter for its own page.
func (s *shell) secured(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("Permissions-Policy", "camera=(self), microphone=(), geolocation=(), payment=(), usb=()")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		// Kept by this person's browser for its back button, asked about again
		// whenever the page is opened. What holds a secret is kept nowhere.
		h.Set("Cache-Control", "private, no-cache")
		if s.https() {
			h.Set("Strict-Transport-Security", "max-age=31536000; includeSubDomains")
		}
		next.ServeHTTP(w, r)
	})
}

// keptNowhere is for a page that shows a secret or is reached by one.
func keptNowhere(w http.ResponseWriter) {
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Referrer-Policy", "no-referrer")
}

// clientAddress notes who is at the other end, by a trusted proxy's word or by
// the connection itself.
func (s *shell) clientAddress(next http.Handler) http.Handler {
	if len(s.cfg.TrustedProxies) == 0 {
		return middleware.ClientIPFromRemoteAddr(next)
	}
	var prefixes []string
	for _, p := range s.cfg.TrustedProxies {
		prefixes = append(prefixes, p.String())
	}
	return middleware.ClientIPFromXFF(prefixes...)(next)
}

// clientKey is what attempts from one place have in common: the address, or for
// IPv6 the network that one customer of a provider gets.
func clientKey(r *http.Request) string {
	ip, err := netip.ParseAddr(middleware.GetClientIP(r.Context()))
	if err != nil {
		return "unknown"
	}
	if ip.Is6() {
		if p, err := ip.Prefix(64); err == nil {
			return p.String()
		}
	}
	return ip.String()
}
