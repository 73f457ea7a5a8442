package web_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

func TestPagesAreCompressedForWhomAsks(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Technician)
	plain := v.Get("/").Wants(http.StatusOK)
	r := v.Request("GET", "/")
	r.Header.Set("Accept-Encoding", "gzip")
	packed := v.Do(r).Wants(http.StatusOK)
	if packed.Header.Get("Content-Encoding") != "gzip" || !strings.Contains(strings.Join(packed.Header.Values("Vary"), ", "), "Accept-Encoding") {
		t.Fatalf("encoding %q, vary %q", packed.Header.Get("Content-Encoding"), packed.Header.Get("Vary"))
	}
	z, err := gzip.NewReader(bytes.NewReader(packed.Body))
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(z)
	if err != nil || !strings.Contains(string(page), "My round") || len(packed.Body) >= len(plain.Body) {
		t.Errorf("%v, %d bytes packed of %d", err, len(packed.Body), len(plain.Body))
	}
}
