package webtest_test

import (
	"net/http"
	"testing"

	"scaperound/web/webtest"
)

func TestACutLineLetsNobodyThrough(t *testing.T) {
	site := webtest.StartEmpty(t)
	client := &http.Client{Transport: &http.Transport{}}
	ask := func() error {
		res, err := client.Get(site.URL + "/healthz")
		if err != nil {
			return err
		}
		return res.Body.Close()
	}
	if err := ask(); err != nil {
		t.Fatal(err)
	}
	site.Line.Cut()
	for range 3 { // the kept connection, and new ones
		if ask() == nil {
			t.Fatal("an answer came through a cut line")
		}
	}
	site.Line.Mend()
	if err := ask(); err != nil {
		t.Fatal("mended: ", err)
	}
}
