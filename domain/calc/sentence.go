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
// an input that is not given. Without a sentence, each input stands behind its title.
func (d *Def) Said(fill func(*Input) string) string {
	pieces, rest := d.Pieces()
	var b strings.Builder
	add := func(text string) {
		if text == "" {
			return
		}
		if b.Len() > 0 && !strings.HasPrefix(text, ",") && !strings.HasPrefix(text, ":") {
			b.WriteByte(' ')
		}
		b.WriteString(text)
	}
	named := func(in *Input) {
		if v := fill(in); v != "" {
			if b.Len() > 0 {
				b.WriteByte(',')
			}
			add(in.Title + " " + v)
		}
	}
	for _, p := range pieces {
		switch {
		case p.Blank == nil:
			add(p.Words)
		case d.Sentence == "":
			named(p.Blank)
		default:
			if v := fill(p.Blank); v != "" {
				add(v)
			} else {
				add("…")
			}
		}
	}
	for _, in := range rest {
		named(in)
	}
	return b.String()
}
