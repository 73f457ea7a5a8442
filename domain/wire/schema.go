package wire

import (
	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// Schema describes the document that Assess reads: every field, unit and id.
func Schema() []byte {
	c := writer()
	c.braces(func(c *codec) {
		about := "One JSON object. A missing key means not measured or not known, never zero. Unknown fields are refused. Numbers are in the unit named here."
		c.text("about", &about)
		c.object("document", func(c *codec) {
			for _, f := range [...][2]string{
				{"visit", "id; id is taken for it"}, {"revision", "id"}, {"kind", "kind of visit: routine, call_out, build, start_up, move, gear_only, by_phone"},
				{"day", "civil day as 2026-11-24; without it no dates are given"}, {"time", "local time as 15:30"},
				{"tank", "object, see tank"}, {"plants", "list of groups, or of objects with group, species, count"}, {"animals", "as plants"},
				{"customer", "what this customer does: feeds, tops_up, doses, changes_water, each true or false"},
				{"profile", "name, light_need_umol_m2_s, bands: list of kind, lo, hi, hard_lo, hard_hi"},
				{"plan", "list of solute, mg_per_dose, doses_per_week, how, by"}, {"kits", "list of lot, name, measures, expires"},
				{"readings", "object of a key of readings, or KIND.PHASE, to a number, or to an object with value, lo, hi, lot"},
				{"signs", "list of ids, see signs"}, {"looks", "animals, plants, algae, gear: fine or trouble"}, {"eye_mark", "well, little or not"},
				{"since", "list of what happened since last time"}, {"doses", "how: as_planned, some_missed, altered, not_known; missed"},
				{"leave", "each line of the leave list: checked, not_here or left_open"}, {"work", "list of kind, solute, grams, ml, litres, minutes, part"},
				{"history", "list of days_ago with key and value, or with work and litres"}, {"open", "list of open tasks as an assessment writes them"},
				{"closed", "tasks that were answered at earlier visits, the oldest first: list of task, state (done, not_needed, declined), days_ago"},
				{"days", "days on which somebody could come"},
			} {
				text := f[1]
				c.text(f[0], &text)
			}
		})
		list(c, "tank", &tankFields, func(c *codec, f *field) {
			c.must("key", &f.Key)
			c.text("unit", &f.Unit)
			c.texts("values", &f.Values)
			c.text("means", &f.Means)
		})
		list(c, "readings", &readingKeys, func(c *codec, k *readingKey) {
			c.must("key", &k.Key)
			m, _ := q.MeasureOf(k.Kind)
			word(c, "kind", &k.Kind)
			word(c, "phase", &k.Phase)
			word(c, "unit", &m.Unit)
			c.text("title", &m.Title)
			c.number("lo", &m.Range.Lo)
			c.number("hi", &m.Range.Hi)
		})
		signs := visit.Signs()
		list(c, "signs", &signs, func(c *codec, s *visit.SignDef) {
			id, group, on, title := s.ID, string(s.Group), string(s.On), s.Title
			c.must("id", &id)
			c.text("group", &group)
			c.text("on", &on)
			c.text("title", &title)
		})
		group := func(c *codec, g *tank.Group) {
			id, name := g.ID, g.Name
			c.must("id", &id)
			c.text("name", &name)
		}
		list(c, "plants", &tank.PlantGroups, group)
		list(c, "animals", &tank.AnimalGroups, group)
		rules := care.Rules()
		list(c, "rules", &rules, func(c *codec, r *care.Rule) {
			id, title, system := r.ID, r.Title, string(r.System)
			c.must("id", &id)
			c.text("title", &title)
			c.text("system", &system)
		})
	})
	return append(c.out, '\n')
}
