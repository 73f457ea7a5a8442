package webtest

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"golang.org/x/net/html"
)

// Answer is what came back, and its page if it is one.
type Answer struct {
	Status int
	Header http.Header
	Body   []byte

	t   testing.TB
	doc *html.Node
}

func answer(t testing.TB, res *http.Response, body []byte) *Answer {
	t.Helper()
	a := &Answer{Status: res.StatusCode, Header: res.Header, Body: body, t: t}
	if strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") {
		doc, err := html.Parse(bytes.NewReader(body))
		if err != nil {
			t.Fatalf("parse the page: %v", err)
		}
		a.doc = doc
	}
	return a
}

// Parse reads a page that a test has rendered itself.
func Parse(t testing.TB, page []byte) *Answer {
	t.Helper()
	return answer(t, &http.Response{StatusCode: http.StatusOK, Header: http.Header{"Content-Type": {"text/html"}}}, page)
}

// Find returns every element that the CSS selector finds.
func (a *Answer) Find(selector string) []*html.Node {
	a.t.Helper()
	if a.doc == nil {
		a.t.Fatalf("%d is no page: %.200s", a.Status, a.Body)
	}
	sel, err := cascadia.ParseGroup(selector)
	if err != nil {
		a.t.Fatalf("selector %s: %v", selector, err)
	}
	return cascadia.QueryAll(a.doc, sel)
}

// One returns the one element that the selector finds, and fails for any other
// number of them.
func (a *Answer) One(selector string) *html.Node {
	a.t.Helper()
	found := a.Find(selector)
	if len(found) != 1 {
		a.t.Fatalf("%d elements are %s, want one, in:\n%s", len(found), selector, a.Text("body"))
	}
	return found[0]
}

// Text is the text of every element found, its spaces made single.
func (a *Answer) Text(selector string) string {
	a.t.Helper()
	var parts []string
	for _, n := range a.Find(selector) {
		parts = append(parts, TextOf(n))
	}
	return strings.Join(parts, "\n")
}

// Attr is an attribute of the one element found.
func (a *Answer) Attr(selector, name string) string {
	a.t.Helper()
	return AttrOf(a.One(selector), name)
}

// Wants fails unless the status is the one given.
func (a *Answer) Wants(status int) *Answer {
	a.t.Helper()
	if a.Status != status {
		a.t.Fatalf("status %d, want %d\n%.2000s", a.Status, status, a.Body)
	}
	return a
}

// JSON reads the body into v.
func (a *Answer) JSON(v any) {
	a.t.Helper()
	if got := a.Header.Get("Content-Type"); !strings.HasPrefix(got, "application/json") {
		a.t.Fatalf("%d is %s, want JSON: %.200s", a.Status, got, a.Body)
	}
	if err := json.Unmarshal(a.Body, v); err != nil {
		a.t.Fatalf("read %.200s: %v", a.Body, err)
	}
}

// TextOf is the text below an element, its spaces made single.
func TextOf(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			b.WriteString(n.Data)
			b.WriteByte(' ')
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(n)
	return strings.Join(strings.Fields(b.String()), " ")
}

// AttrOf is an attribute of an element; empty where it has none.
func AttrOf(n *html.Node, name string) string {
	for _, at := range n.Attr {
		if at.Key == name {
			return at.Val
		}
	}
	return ""
}
