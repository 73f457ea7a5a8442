package calc

import "strings"

// Piece is a part of a sentence to fill in: words, or a blank for an input.
type Piece struct {
	Words string
	Blank *Input
}

// Pieces cuts the sentence at its blanks. Without one, the required inputs follow
// each other as blanks. rest are the inputs that it leaves out.
func (d *Def) Pieces() (pieces []Piece, rest []*Input) {
	used := map[string]bool{}
	text := d.Sentence
	for text != "" {
		words, tail, found := strings.Cut(text, "{")
		if words = strings.TrimSpace(words); words != "" {
			pieces = append(pieces, Piece{Words: words})
		}
		if !found {
			break
		}
		key, after, _ := strings.Cut(tail, "}")
		if in := d.named(key); in != nil {
			used[in.Key] = true
			pieces = append(pieces, Piece{Blank: in})
		}
		text = after
	}
	for i := range d.In {
		in := &d.In[i]
		switch {
		case used[in.Key]:
		case !in.Optional:
			pieces = append(pieces, Piece{Blank: in})
		default:
			rest = append(rest, in)
		}
	}
	return pieces, rest
}

// Said is the sentence with its blanks filled by fill, which answers nothing for
// an input that is not given, and what was said besides. Without a sentence, each
// input stands behind its title.
func (d *Def) Said(fill func(*Input) string) (said, besides string) {
	pieces, rest := d.Pieces()
	var b strings.Builder
	add := func(text string) {
		if b.Len() > 0 && text[0] != ',' && text[0] != ':' {
			b.WriteByte(' ')
		}
		b.WriteString(text)
	}
	var titled []string
	for _, p := range pieces {
		switch {
		case p.Blank == nil:
			add(p.Words)
		case d.Sentence == "":
			titled = append(titled, named(p.Blank, fill)...)
		default:
			if v := fill(p.Blank); v != "" {
				add(v)
			} else if p.Blank.Optional {
				add("none")
			} else {
				add("…")
			}
		}
	}
	for _, in := range rest {
		titled = append(titled, named(in, fill)...)
	}
	besides = strings.Join(titled, ", ")
	if d.Sentence == "" {
		return besides, ""
	}
	return b.String(), besides
}

// named is an input behind its title; nothing where it is not given.
func named(in *Input, fill func(*Input) string) []string {
	v := fill(in)
	if v == "" {
		return nil
	}
	return []string{in.Title + " " + v}
}
