// Package view turns plain structs into pages. Nothing here decides anything:
// what a struct does not carry, a page does not show.
package view

import "github.com/a-h/templ"

// Frame is what surrounds every page.
type Frame struct {
	Title  string // the page's one heading, and the browser's title
	Lead   string // one quiet line below the heading; may be empty
	Up     *Link  // the page this one hangs from; nil at the top
	Shop   string // the shop's name; empty before it has one
	Lang   string // a language tag such as en-IE
	Person *Person
	Nav    []Link
	Notice *Notice
	// Scripts are the addresses of what this page needs beside the house's own.
	Scripts []string
	// Styles are the addresses of style sheets that this page needs likewise.
	Styles []string
	Assets Assets
}

// Assets are the addresses of the files that every page loads.
type Assets struct{ Style, Script, Icon, Touch string }

// Person is who is signed in.
type Person struct {
	ID   string
	Name string
	Role string // in words
}

// Link leads somewhere. Here marks the page, or the part of the house, one is in.
type Link struct {
	Label string
	Href  string
	Here  bool
}

// Notice says what has just been done, and how to take it back.
type Notice struct {
	Text string
	Undo *Post // nil where it cannot be undone
}

// Post is a button that changes something.
type Post struct {
	Label  string
	Action string
	Hidden []Pair
	Quiet  bool // looks like a link: for what is seldom wanted
}

// Pair is one field of a form.
type Pair struct{ Name, Value string }

// documentTitle is what the browser's tab says.
func (f Frame) documentTitle() string {
	if f.Shop == "" {
		return f.Title + " · Scaperound"
	}
	return f.Title + " · " + f.Shop
}

func (f Frame) lang() string {
	if f.Lang == "" {
		return "en"
	}
	return f.Lang
}

// whose tells the scripts of a page who is signed in: what the tablet keeps and
// sends is that person's. It stands in every page of the house.
func (f Frame) whose() templ.Attributes {
	if f.Person == nil {
		return nil
	}
	return templ.Attributes{"data-person": f.Person.ID}
}

func (f Frame) mark() string {
	if f.Shop == "" {
		return "Scaperound"
	}
	return f.Shop
}

func here(l Link) string {
	if l.Here {
		return "page"
	}
	return "false"
}
