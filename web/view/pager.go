package view

import "fmt"

// Pager leads through a long list. Pages are counted from 1.
type Pager struct {
	Page, Pages int
	First, Last int // the rows shown, counted from 1
	Total       int
	Noun        string // in the plural: tanks
	Previous    string // addresses; empty where there is none
	Next        string
}

func (p Pager) says() string {
	if p.Total == 0 {
		return "No " + p.Noun
	}
	return fmt.Sprintf("%d to %d of %d %s", p.First, p.Last, p.Total, p.Noun)
}
