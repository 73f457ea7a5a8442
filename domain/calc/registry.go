package calc

import (
	"cmp"
	"slices"
	"strings"

	"scaperound/domain/fault"
)

// registry holds them all, in the order of the bench. It is built once, from literal
// lists, when the package is loaded.
var registry = slices.Concat(
	co2Defs(), constantDefs(), animalDefs(), oxygenDefs(), hardnessDefs(), unitDefs(), lightDefs(),
	saltDefs(), hardnessSaltDefs(), planDefs(), solubilityDefs(), balanceDefs(), feedDefs(), sourceDefs(), remineralDefs(),
	volumeDefs(), changeDefs(), visitDefs(), flowDefs(), gearDefs(), cylinderDefs(), safetyDefs(), factDefs(),
)

// All returns every calculation in order. The slice must not be changed.
func All() []Def { return registry }

// Find returns a calculation by name or alias, in any case. The names that carry
// a salt, such as KNO3_g_for_dNO3, are understood for every salt of the table.
func Find(name string) (*Def, error) {
	for i := range registry {
		if registry[i].Name == name {
			return &registry[i], nil
		}
	}
	for i := range registry {
		if strings.EqualFold(registry[i].Name, name) || slices.ContainsFunc(registry[i].Aliases, func(a string) bool { return strings.EqualFold(a, name) }) {
			return &registry[i], nil
		}
	}
	if d := saltNamed(name); d != nil {
		return d, nil
	}
	f := fault.New(fault.NotFound, "There is no calculation “%s”.", name)
	if near, _ := Search(name); len(near) > 0 {
		f.Msg += " Did you mean " + near[0].Name + "?"
	}
	return nil, f
}

// Search returns the calculations that hold all words of a text, best first: those
// of that very name, those that expect to be looked for by these words, those whose
// title holds them, and last plain constants and what merely is named so; of equals
// those of every day first. Where none holds all words, those come that hold most, and
// all is false.
func Search(text string) (found []*Def, all bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	words := wordsOf(text)
	if len(words) == 0 {
		return nil, true
	}
	var ranked [5][]*Def
	most := 0
	var nearest []*Def
	for i := range registry {
		d := &registry[i]
		if r := d.rank(text, words); r < len(ranked) {
			ranked[r] = append(ranked[r], d)
		}
		switch n := d.holds(words); {
		case n > most:
			most, nearest = n, []*Def{d}
		case n == most && n > 0:
			nearest = append(nearest, d)
		}
	}
	if most < len(words) {
		return dailyFirst(nearest), false
	}
	for i := range ranked {
		ranked[i] = dailyFirst(ranked[i])
	}
	return slices.Concat(ranked[:]...), true
}

// idle are words of a question that name nothing.
var idle = [...]string{"a", "an", "and", "are", "at", "be", "by", "can", "do", "does", "for", "from", "have", "how", "i", "if", "in", "is", "it", "l", "long", "many", "mg", "much", "my", "need", "of", "on", "should", "tank", "that", "the", "to", "what", "when", "with"}

// wordsOf cuts a text into the words that name something, without the s of plurals.
func wordsOf(text string) []string {
	all := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" _-.,/?!\"'()", r) })
	var words []string
	for _, w := range all {
		if !slices.Contains(idle[:], w) && strings.Trim(w, "0123456789") != "" {
			if len(w) > 4 && !strings.HasSuffix(w, "ss") {
				w = strings.TrimSuffix(w, "s")
			}
			words = append(words, w)
		}
	}
	if len(words) == 0 {
		return all
	}
	return words
}

// dailyFirst brings what is used every day forward, and leaves the order otherwise.
func dailyFirst(defs []*Def) []*Def {
	place := func(d *Def) int {
		if i := slices.Index(daily[:], d.Name); i >= 0 {
			return i
		}
		if d.Topic == TopicFact {
			return len(daily) + 1
		}
		return len(daily)
	}
	slices.SortStableFunc(defs, func(a, b *Def) int { return cmp.Compare(place(a), place(b)) })
	return defs
}

// words are all under which a calculation may be looked for.
func (d *Def) words() string {
	return strings.ToLower(d.Title + " " + d.Find + " " + d.Name + " " + strings.Join(d.Aliases, " ") + " " + d.Topic.Title())
}

// holds counts the words that the calculation answers to.
func (d *Def) holds(words []string) int {
	text, n := d.words(), 0
	for _, w := range words {
		if strings.Contains(text, w) {
			n++
		}
	}
	return n
}

// rank is how well a calculation answers to words, 0 the best and 5 not at all.
func (d *Def) rank(text string, words []string) int {
	names := strings.ToLower(d.Name + " " + strings.Join(d.Aliases, " "))
	title := strings.ToLower(d.Title)
	switch {
	case slices.Contains(strings.Fields(names), text):
		return 0
	case d.holds(words) < len(words):
		return 5
	case d.Topic == TopicFact:
		return 4
	case holdsAll(strings.ToLower(d.Find), words):
		return 1
	case holdsAll(title, words):
		return 2
	}
	return 3
}

func holdsAll(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}
