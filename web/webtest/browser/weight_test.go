package browser

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"
)

// TestWeightOfTheVisitPage weighs what a tablet with nothing kept fetches to
// show the form: the page with its styles and scripts, without pictures, as a
// proxy or the server itself would compress it (gzip, level 6).
func TestWeightOfTheVisitPage(t *testing.T) {
	const most = 90_000 // bytes
	d := shop(t)
	v := d.SignIn(t, d.Technician)
	total := 0
	weigh := func(path string) []byte {
		a := v.Get(path).Wants(http.StatusOK)
		body := a.Body
		if a.Header.Get("Content-Encoding") == "" {
			var b bytes.Buffer
			z, _ := gzip.NewWriterLevel(&b, 6)
			z.Write(body)
			z.Close()
			t.Logf("%7d bytes, %6d compressed  %s", len(body), b.Len(), strings.SplitN(path, "?", 2)[0])
			total += b.Len()
			return body
		}
		t.Logf("%7d bytes as sent  %s", len(body), path)
		total += len(body)
		z, err := gzip.NewReader(bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		plain, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		return plain
	}
	path := "/tanks/" + d.Tank + "/visits/new"
	page := v.Get(path).Wants(http.StatusOK)
	weigh(path)
	parts := 0
	for _, n := range page.Find("link[rel=stylesheet], link[rel=icon], script[src]") {
		for _, at := range n.Attr {
			if at.Key == "href" || at.Key == "src" {
				weigh(at.Val)
				parts++
			}
		}
	}
	if parts < 4 {
		t.Fatalf("only %d parts: this test looks in the wrong place", parts)
	}
	t.Logf("%d bytes in all", total)
	if total > most {
		t.Errorf("%d bytes compressed, at most %d", total, most)
	}
}
