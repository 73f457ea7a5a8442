package demoshop

import (
	"net/url"

	"scaperound/domain/visit"
)

// post is a visit's form as somebody filled it in.
type post struct{ fields []visit.Field }

func (p *post) set(name, value string) {
	if value != "" {
		p.fields = append(p.fields, visit.Field{Name: name, Value: value})
	}
}

// body is the form as it would have come over the wire.
func (p *post) body() []byte {
	v := url.Values{}
	for _, f := range p.fields {
		v.Add(f.Name, f.Value)
	}
	return []byte(v.Encode())
}
