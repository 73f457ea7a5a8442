package calc

import (
	"slices"
	"strings"

	"scaperound/domain/fault"
)

// all is the registry, in the order of the bench. It is built once, from literal
// lists, when the package is loaded.
var all = slices.Concat(
	co2Defs(), constantDefs(), animalDefs(), oxygenDefs(), hardnessDefs(), unitDefs(), lightDefs(),
	saltDefs(), planDefs(), solubilityDefs(), balanceDefs(), feedDefs(), sourceDefs(), remineralDefs(),
	volumeDefs(), changeDefs(), flowDefs(), gearDefs(), cylinderDefs(), safetyDefs(), factDefs(),
)

// All returns every calculation in order. The slice must not be changed.
func All() []Def { return all }

// Find returns a calculation by name or alias, in any case. The names that carry
// a salt, such as KNO3_g_for_dNO3, are understood for every salt of the table.
func Find(name string) (*Def, error) {
	for i := range all {
		if all[i].Name == name {
			return &all[i], nil
		}
	}
	for i := range all {
		if strings.EqualFold(all[i].Name, name) || slices.ContainsFunc(all[i].Aliases, func(a string) bool { return strings.EqualFold(a, name) }) {
			return &all[i], nil
		}
	}
	if d := saltNamed(name); d != nil {
		return d, nil
	}
	f := fault.New(fault.NotFound, "There is no calculation %q.", name)
	if near := Search(name); len(near) > 0 {
		f.Msg += " Did you mean " + near[0].Name + "?"
	}
	return nil, f
}

// Search returns the calculations that hold all words of a text, best first: those
// of that very name, those that expect to be looked for by these words, those whose
// title holds them, and last plain constants and what merely is named so.
func Search(text string) []*Def {
	text = strings.ToLower(strings.TrimSpace(text))
	words := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" _-.,/", r) })
	if len(words) == 0 {
		return nil
	}
	var ranked [5][]*Def
	for i := range all {
		if r := all[i].rank(text, words); r < len(ranked) {
			ranked[r] = append(ranked[r], &all[i])
		}
	}
	return slices.Concat(ranked[:]...)
}

// rank is how well a calculation answers to words, 0 the best and 5 not at all.
func (d *Def) rank(text string, words []string) int {
	names := strings.ToLower(d.Name + " " + strings.Join(d.Aliases, " "))
	hints := strings.ToLower(d.Find) + " " + names
	title := strings.ToLower(d.Title)
	switch {
	case slices.Contains(strings.Fields(names), text):
		return 0
	case !holdsAll(title+" "+hints, words):
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
