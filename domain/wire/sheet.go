package wire

import (
	"scaperound/domain/care"
	"scaperound/domain/fault"
)

// EncodeSheet writes the care sheet's frozen document.
func EncodeSheet(s care.Sheet) []byte {
	c := writer()
	c.braces(func(c *codec) { c.sheet(&s) })
	return c.out
}

// DecodeSheet reads a stored sheet of this version or an older one.
func DecodeSheet(b []byte) (care.Sheet, error) {
	var s care.Sheet
	n, err := parse(b)
	if err != nil {
		return s, err
	}
	c := reader(&n)
	c.into(&n, "", func(c *codec) { c.sheet(&s) })
	if err := c.err(); err != nil {
		return s, err
	}
	if s.Version < 1 || s.Version > care.SheetVersion {
		return s, fault.New(fault.Invalid, "This care sheet is of version %d; this program reads versions 1 to %d.", s.Version, care.SheetVersion)
	}
	return s, nil
}

func (c *codec) sheet(s *care.Sheet) {
	c.whole("version", &s.Version)
	c.must("visit", &s.Visit)
	c.must("revision", &s.Revision)
	c.text("tank", &s.Tank)
	c.text("customer", &s.Customer)
	c.text("shop", &s.Shop)
	c.text("phone", &s.Phone)
	c.text("mail", &s.Mail)
	c.text("by", &s.By)
	c.day("day", &s.Day)
	word(c, "status", &s.Status)
	c.must("top", &s.Top)
	list(c, "lines", &s.Lines, (*codec).sheetLine)
	list(c, "donts", &s.Donts, (*codec).sheetLine)
	c.texts("done", &s.Done)
	c.text("note", &s.Note)
	c.maybeDay("next", &s.Next)
	c.text("next_text", &s.NextText)
	some(c, "figures", &s.Figures, func(c *codec, f *care.Figure) {
		word(c, "kind", &f.Kind)
		c.text("title", &f.Title)
		c.text("unit", &f.Unit)
		c.number("value", &f.Value)
		c.maybe("lo", &f.Lo)
		c.maybe("hi", &f.Hi)
		c.maybe("band_lo", &f.BandLo)
		c.maybe("band_hi", &f.BandHi)
		c.maybe("previous", &f.Previous)
		word(c, "state", &f.State)
		c.text("state_text", &f.StateText)
		c.text("text", &f.Text)
	})
	c.maybeDay("replaces", &s.Replaces)
	c.text("rules", &s.Rules)
}

func (c *codec) sheetLine(l *care.SheetLine) {
	c.text("icon", &l.Icon)
	c.must("text", &l.Text)
	c.maybeDay("day", &l.Day)
}
