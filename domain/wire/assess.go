package wire

import (
	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Assess reads one document, judges it, and writes one: what the command, the
// preview and the tablet share. What is wrong with the document is a fault with
// the paths of its fields.
func Assess(b []byte) ([]byte, error) {
	c, dated, err := DecodeCase(b)
	if err != nil {
		return nil, err
	}
	a := care.Assess(c)
	if !dated {
		undate(&a)
	}
	return EncodeAssessment(a), nil
}

// undate takes out what follows from a day that nobody named.
func undate(a *care.Assessment) {
	a.Next.On, a.Next.Latest, a.Next.Extra = q.Opt[q.Date]{}, q.Opt[q.Date]{}, q.Opt[q.Date]{}
	a.Next.Say = say.S("next.open")
	for _, ts := range [][]care.Task{a.Tasks, a.Later} {
		for i := range ts {
			ts[i].Day, ts[i].LookOn, ts[i].Opened = q.Opt[q.Date]{}, q.Opt[q.Date]{}, q.Opt[q.Date]{}
		}
	}
	a.Followed = nil
	for _, ls := range [][]care.Line{a.Customer, a.Donts} {
		for i := range ls {
			ls[i].Say.ID = trimUntil(ls[i].Say.ID)
			ls[i].Say.Args = []say.Arg{say.Text("until", "until we are back")}
		}
	}
}

func trimUntil(id string) string {
	const tail = ".until"
	if len(id) > len(tail) && id[len(id)-len(tail):] == tail {
		return id[:len(id)-len(tail)]
	}
	return id
}

// EncodeFaults writes what was wrong, for scripts.
func EncodeFaults(err error) []byte {
	f := fault.Of(err)
	c := writer()
	c.braces(func(c *codec) {
		fields := f.Fields
		if len(fields) == 0 {
			fields = fault.Fields{{Kind: f.Kind.String(), Text: f.Msg}}
		}
		list(c, "faults", (*[]fault.Field)(&fields), func(c *codec, x *fault.Field) {
			c.must("field", &x.Name)
			c.must("kind", &x.Kind)
			c.must("text", &x.Text)
		})
	})
	return c.out
}
