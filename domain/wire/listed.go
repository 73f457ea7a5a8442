//go:build !js

package wire

import (
	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// ListOf is what Preview shows of an assessment, line by line.
func ListOf(a care.Assessment, u say.Units) []visit.ListLine {
	l := listOf(a, u)
	var out []visit.ListLine
	for _, part := range []struct {
		name  string
		lines []told
	}{{"now", l.now}, {"pour", l.pour}, {"findings", l.findings}, {"visit", l.visit}, {"next", l.next}} {
		for _, x := range part.lines {
			out = append(out, visit.NewListLine(part.name, x.id, x.text))
		}
	}
	for _, text := range l.customer {
		out = append(out, visit.NewListLine("customer", "", text))
	}
	return out
}
