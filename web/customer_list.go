package web

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// customerStore is what the pages about customers ask for. by is the id of
// whoever does it.
type customerStore interface {
	// Customers lists one page and says how many there are in all.
	Customers(ctx context.Context, want customer.List) ([]customer.Line, int, error)
	Customer(ctx context.Context, id string) (customer.Customer, error)
	CustomerCall(ctx context.Context, id string, today q.Date) (customer.Call, error)
	AddCustomer(ctx context.Context, by string, c customer.Customer) (id string, err error)
	// EditCustomer writes over c.Version; Conflict where somebody was faster.
	EditCustomer(ctx context.Context, by string, c customer.Customer) error
	ArchiveCustomer(ctx context.Context, by, id string, archived bool) error
	EraseCustomer(ctx context.Context, by, id string) error
	ContactNotes(ctx context.Context, id string, most int) ([]customer.ContactNote, error)
	// AddContactNote keeps a note once, however often its form is sent.
	AddContactNote(ctx context.Context, by string, n customer.ContactNote) (id string, err error)
}

type customerPages struct {
	*shell
	store customerStore
}

// reads is how the person who asks reads and writes numbers.
func reads(r *http.Request) say.Units {
	in := who(r)
	return in.Shop.Reads(say.System(in.Person.Units))
}

func isOwner(r *http.Request) bool { return who(r).Person.Role == staff.Owner }

// today is the shop's day.
func (s *shell) today(r *http.Request) q.Date { return dayIn(r)(s.cfg.Now()) }

// dayIn gives the shop's day of an instant.
func dayIn(r *http.Request) func(time.Time) q.Date {
	zone := local(r).Zone
	return func(t time.Time) q.Date { return q.DateOf(t.In(zone)) }
}

func customerPath(id string) string { return "/customers/" + id }

// places leads from one list of this part of the house to the others.
func places(here string) []view.Link {
	links := []view.Link{{Label: "Customers", Href: "/customers"}, {Label: "Sites", Href: "/sites"}, {Label: "Keys", Href: "/keys"}}
	for i := range links {
		links[i].Here = links[i].Href == here
	}
	return links
}

// wanted reads which part of a list is asked for.
func wanted(r *http.Request) customer.List {
	query := r.URL.Query()
	page, err := strconv.Atoi(query.Get("page"))
	if err != nil || page < 1 || page > 1_000_000 {
		page = 1
	}
	return customer.List{Sort: query.Get("sort"), Archived: query.Get("archived") != "", Page: page}
}

// listAddress is the address of a part of a list; what is usual is left out.
func listAddress(path string, want customer.List, usual string) string {
	query := url.Values{}
	if want.Sort != "" && want.Sort != usual {
		query.Set("sort", want.Sort)
	}
	if want.Archived {
		query.Set("archived", "1")
	}
	if want.Page > 1 {
		query.Set("page", strconv.Itoa(want.Page))
	}
	if len(query) == 0 {
		return path
	}
	return path + "?" + query.Encode()
}

// listHead fills in how a list can be sorted, and where in it one is.
func listHead(path string, want customer.List, total, shown int, noun string, sorts []view.Option) view.ListHead {
	usual := sorts[0].Value
	sort := usual
	for _, o := range sorts {
		if o.Value == want.Sort {
			sort = want.Sort
		}
	}
	head := view.ListHead{Places: places(path), Noun: noun, Archived: want.Archived}
	for _, o := range sorts {
		head.Sorts = append(head.Sorts, view.Link{Label: o.Label, Href: listAddress(path, customer.List{Sort: o.Value, Archived: want.Archived}, usual), Here: o.Value == sort})
	}
	head.Other = view.Link{Label: "Those archived", Href: listAddress(path, customer.List{Archived: true}, usual)}
	if want.Archived {
		head.Other = view.Link{Label: "Those in use", Href: path}
	}
	first := customer.PerPage*(want.Page-1) + 1
	head.Pager = view.Pager{Page: want.Page, Pages: (total + customer.PerPage - 1) / customer.PerPage, First: first, Last: first + shown - 1, Total: total, Noun: noun}
	if want.Page > 1 {
		before := want
		before.Page--
		head.Pager.Previous = listAddress(path, before, usual)
	}
	if want.Page < head.Pager.Pages {
		next := want
		next.Page++
		head.Pager.Next = listAddress(path, next, usual)
	}
	return head
}

func (p customerPages) list(w http.ResponseWriter, r *http.Request) error {
	want := wanted(r)
	lines, total, err := p.store.Customers(r.Context(), want)
	if err != nil {
		return err
	}
	when := local(r)
	body := view.CustomerList{
		Head: listHead("/customers", want, total, len(lines), "customers", []view.Option{
			{Value: "name", Label: "Name"}, {Value: "town", Label: "Town"}, {Value: "visit", Label: "Longest not visited"}, {Value: "contact", Label: "Longest not spoken to"}}),
		New: view.Link{Label: "Add a customer", Href: "/customers/new"},
	}
	for _, l := range lines {
		line := view.CustomerLine{Name: l.Name, Href: customerPath(l.ID), Kind: l.Kind.Title(), Towns: strings.Join(l.Towns, ", "), Tanks: counted(l.Tanks, "tank", "tanks")}
		if len(l.Phones) > 0 {
			line.Phone = l.Phones[0]
		}
		if l.LastVisit.OK {
			line.Visited = when.DayOf(l.LastVisit.V)
		}
		if l.Contact.OK {
			line.Spoken = when.DayOf(l.Contact.V)
		}
		body.Lines = append(body.Lines, line)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Customers"}, view.CustomerListBody(body))
}

// counted writes a number with its noun: 1 tank, 2 tanks, no tanks.
func counted(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
