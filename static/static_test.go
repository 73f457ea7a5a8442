package static_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"scaperound/static"
)

func get(t *testing.T, path string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest("GET", path, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	static.Handler().ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r io.Reader) string {
	t.Helper()
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestHashedNamesAreKeptAndPlainOnesAskedAbout(t *testing.T) {
	path := static.Path("house.css")
	if !regexp.MustCompile(`^/static/house\.[0-9a-f]{16}\.css$`).MatchString(path) {
		t.Fatalf("path = %q", path)
	}
	hashed := get(t, path)
	if hashed.StatusCode != 200 || !strings.Contains(hashed.Header.Get("Cache-Control"), "immutable") {
		t.Errorf("hashed: %d, %q", hashed.StatusCode, hashed.Header.Get("Cache-Control"))
	}
	plain := get(t, "/static/house.css")
	if plain.StatusCode != 200 || plain.Header.Get("Cache-Control") != "no-cache" {
		t.Errorf("plain: %d, %q", plain.StatusCode, plain.Header.Get("Cache-Control"))
	}
	again := get(t, "/static/house.css", "If-None-Match", plain.Header.Get("ETag"))
	if again.StatusCode != http.StatusNotModified || body(t, again.Body) != "" {
		t.Errorf("unchanged: %d", again.StatusCode)
	}
	for _, gone := range []string{"/static/house.0000000000000000.css", "/static/static.go", "/static/", "/static/../static.go", "/static/house", static.Path("nothing.css")} {
		if res := get(t, gone); res.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %d", gone, res.StatusCode)
		}
	}
}

func TestPackedIsTheSameFile(t *testing.T) {
	plain := get(t, "/static/house.css")
	packed := get(t, "/static/house.css", "Accept-Encoding", "deflate, gzip;q=0.8")
	if packed.Header.Get("Content-Encoding") != "gzip" || packed.Header.Get("Vary") != "Accept-Encoding" {
		t.Fatalf("headers %v", packed.Header)
	}
	if packed.Header.Get("ETag") == plain.Header.Get("ETag") {
		t.Error("two bodies, one tag")
	}
	unpacked, err := gzip.NewReader(packed.Body)
	if err != nil {
		t.Fatal(err)
	}
	if body(t, unpacked) != body(t, plain.Body) {
		t.Error("unpacks to something else")
	}
	if none := get(t, "/static/house.css", "Accept-Encoding", "gzip;q=0"); none.Header.Get("Content-Encoding") != "" {
		t.Error("packed for somebody who refuses it")
	}
}

// The house's colours keep 7:1 for text on what it stands on, and 3:1 for the
// edges of what is touched, as WCAG 2 reckons contrast.
func TestColoursKeepTheirContrast(t *testing.T) {
	css := body(t, get(t, "/static/house.css").Body)
	light, rest, found := strings.Cut(css, "@media (prefers-color-scheme: dark)")
	if !found {
		t.Fatal("there is no dark scheme")
	}
	dark, _, _ := strings.Cut(rest, "*, *::before")
	for name, scheme := range map[string]string{"light": light, "dark": dark} {
		colour := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(scheme, -1) {
			colour[m[1]] = m[2]
		}
		for _, c := range []struct {
			on, back string
			least    float64
		}{
			{"ink", "paper", 7}, {"ink", "sheet", 7}, {"quiet", "paper", 7}, {"quiet", "sheet", 7}, {"rust", "paper", 7}, {"rust", "wash", 7},
			{"ink", "wash", 7}, {"quiet", "wash", 7}, {"on-pressed", "pressed", 7}, {"edge", "paper", 3}, {"edge", "sheet", 3}, {"band", "paper", 3}, {"ink", "band", 3},
		} {
			if got := contrast(t, colour[c.on], colour[c.back]); got < c.least {
				t.Errorf("%s: %s on %s is %.2f, want %.0f", name, c.on, c.back, got, c.least)
			}
		}
	}
}

// A merge that was left half done is not seen by a browser: it skips what it
// cannot read, and the rules behind it with that.
func TestNoMergeIsLeftHalfDone(t *testing.T) {
	files, err := filepath.Glob("*.*")
	if err != nil {
		t.Fatal(err)
	}
	mark := regexp.MustCompile(`(?m)^(<<<<<<<|>>>>>>>|=======)`)
	n := 0
	for _, f := range files {
		switch filepath.Ext(f) {
		case ".css", ".js", ".svg":
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			n++
			if at := mark.FindIndex(text); at != nil {
				t.Errorf("%s holds the mark of a merge at byte %d", f, at[0])
			}
		}
	}
	if n < 5 {
		t.Errorf("only %d files looked at", n)
	}
}
