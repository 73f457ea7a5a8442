package web

import (
	"net/url"

	"scaperound/domain/calc"
	"scaperound/domain/care"
	"scaperound/domain/say"
)

// calcHref is the bench's page of the calculation behind a finding, with its numbers
// filled in. It is empty where the bench has none: a bare reading held against a
// limit, or what an older version of the rules computed.
func calcHref(c *care.Calc, units say.Units) string {
	if c == nil {
		return ""
	}
	d, err := calc.Find(c.Name)
	if err != nil {
		return ""
	}
	query := url.Values{}
	for _, a := range c.Args {
		in := d.Input(a.Name)
		if in == nil {
			return ""
		}
		setInput(query, in, calc.Num(a.Value), "", units)
	}
	return benchPath(d.Name, query)
}
