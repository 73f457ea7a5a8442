package visit

import (
	"cmp"
	"strconv"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

var (
	paysChoices   = []string{"included", "to_bill", "warranty", "customers_own"}
	moveReasons   = []string{"we_added", "customer_added", "died", "missing", "given", "moved_from", "moved_to", "born", "removed", "counted"}
	livingChoices = []string{"plant", "animal"}
)

// rowSet remembers which numbered rows of a family were posted: family -> row
// prefix -> true. A row is read once, whole.
type rowSet map[string]map[string]bool

func (s rowSet) note(family, rest string) {
	at := strings.LastIndexByte(rest, '.')
	if at < 0 {
		return
	}
	if s[family] == nil {
		s[family] = map[string]bool{}
	}
	s[family][rest[:at]] = true
}

// sorted lists the rows of a family in the order of their numbers.
func (s rowSet) sorted(family string) []string {
	rows := make([]string, 0, len(s[family]))
	for row := range s[family] {
		rows = append(rows, row)
	}
	num.SortStable(rows, func(a, b string) int {
		prefixA, numberA := rowNumber(a)
		prefixB, numberB := rowNumber(b)
		return cmp.Or(strings.Compare(prefixA, prefixB), cmp.Compare(numberA, numberB))
	})
	return rows
}

func rowNumber(row string) (prefix string, n int) {
	at := strings.LastIndexByte(row, '.')
	n, _ = strconv.Atoi(row[at+1:])
	return row[:at+1], n
}

func (r *reader) work(name, rest string) {
	kind, sub, has := strings.Cut(rest, ".")
	if kind == string(Dose) {
		if has {
			r.rows.note("dose", sub)
		}
		return
	}
	if !known(WorkKinds, WorkKind(kind)) {
		r.faults.Add(name, fault.Unknown, "There is no work of this name.")
		return
	}
	r.rows.note("work", kind+".")
}

// finishRows reads every numbered row once all names are known.
func (r *reader) finishRows() {
	for _, kind := range WorkKinds {
		if kind != Dose && r.rows["work"][string(kind)] {
			r.workRow(kind)
		}
	}
	for _, row := range r.limited("dose", "work.dose.") {
		r.doseRow("work.dose." + row)
	}
	for _, row := range r.limited("ppfd", "ppfd.") {
		p := "ppfd." + row
		umol := number[q.Micromol](r, p+".umol", q.Umol, 0, 3000)
		pt := PPFDPoint{
			X:     number[q.Centimetre](r, p+".x", q.CM, 0, 1000),
			Y:     number[q.Centimetre](r, p+".y", q.CM, 0, 1000),
			Depth: number[q.Centimetre](r, p+".depth", q.CM, 0, 300),
		}
		if umol.OK {
			pt.PPFD = umol.V
			r.s.PPFD = append(r.s.PPFD, pt)
		}
	}
	for _, row := range r.limited("bucket", "bucket.") {
		r.bucketRow(row)
	}
	for _, row := range r.limited("moved", "moved.") {
		r.movementRow("moved." + row)
	}
}

func (r *reader) limited(family, prefix string) []string {
	rows := r.rows.sorted(family)
	if len(rows) > maxRows {
		r.faults.Add(prefix+rows[maxRows], fault.TooLong, "Only %d rows are kept.", maxRows)
		rows = rows[:maxRows]
	}
	return rows
}

func (r *reader) workRow(kind WorkKind) {
	p := "work." + string(kind)
	w := Work{
		Kind:   kind,
		Litres: number[q.Litre](r, p+".litres", q.L, 0, 20000),
		Grams:  number[q.Gram](r, p+".grams", q.Gr, 0, 100000),
		Ml:     number[q.Millilitre](r, p+".ml", q.ML, 0, 100000),
		Time:   number[float64](r, p+".minutes", q.Minute, 0, 1440),
		Part:   r.text(p+".part", maxShort),
		Pays:   r.choice(p+".pays", "", paysChoices...),
		Note:   r.text(p+".note", maxNote),
	}
	cans := number[float64](r, p+".cans", "cans", 0, 500)
	said := r.one(p) == "on" || r.one(p) == "done"
	if cans.OK {
		if w.Litres.OK {
			r.faults.Add(p+".cans", fault.NotChoice, "Give litres or cans, not both.")
			return
		}
		if !r.c.Can.OK {
			r.faults.Add(p+".cans", fault.Missing, "The size of the customer's can is not recorded; give litres.")
			return
		}
		w.Litres = q.Some(q.Litre(cans.V) * r.c.Can.V)
	}
	if !said && !w.Litres.OK && !w.Grams.OK && !w.Ml.OK && !w.Time.OK && w.Part == "" && w.Note == "" {
		return
	}
	r.s.Work = append(r.s.Work, w)
}

func (r *reader) doseRow(p string) {
	w := Work{
		Kind: Dose, Solute: r.text(p+".solute", maxShort),
		Grams: number[q.Gram](r, p+".grams", q.Gr, 0, 10000),
		Ml:    number[q.Millilitre](r, p+".ml", q.ML, 0, 100000),
		Pays:  r.choice(p+".pays", "", paysChoices...),
		Note:  r.text(p+".note", maxNote),
	}
	if strokes := number[float64](r, p+".strokes", "strokes", 0, 1000); strokes.OK {
		w.Part = "strokes=" + plainNumber(strokes.V)
	}
	given := w.Grams.OK || w.Ml.OK || w.Part != ""
	if given && w.Solute == "" {
		r.faults.Add(p+".solute", fault.Missing, "Say what was dosed.")
		return
	}
	if !given {
		return
	}
	r.s.Work = append(r.s.Work, w)
}

func (r *reader) bucketRow(row string) {
	p := "bucket." + row
	phase, _, _ := strings.Cut(row, ".")
	if phase != string(Before) && phase != string(After) {
		r.faults.Add(p+".litres", fault.Unknown, "The form has no field of this name.")
		return
	}
	litres := number[q.Litre](r, p+".litres", q.L, 0.05, 200)
	seconds := number[q.Seconds](r, p+".seconds", "s", 0.5, 3600)
	switch {
	case litres.OK && seconds.OK:
		r.s.Buckets = append(r.s.Buckets, BucketRun{Phase: Phase(phase), Litres: litres.V, Seconds: seconds.V})
	case litres.OK && r.one(p+".seconds") == "":
		r.faults.Add(p+".seconds", fault.Missing, "How many seconds did the bucket take?")
	case seconds.OK && r.one(p+".litres") == "":
		r.faults.Add(p+".litres", fault.Missing, "How many litres does the bucket hold?")
	}
}

func (r *reader) movementRow(p string) {
	n, ok := r.count(p+".n", -5000, 5000)
	m := Movement{
		Living: r.choice(p+".living", "", livingChoices...), Group: r.text(p+".group", maxShort),
		Species: r.text(p+".species", maxShort), N: n, Reason: r.choice(p+".reason", "", moveReasons...),
		Pays: r.choice(p+".pays", "", paysChoices...), Note: r.text(p+".note", maxNote),
	}
	if !ok && m.Group == "" && m.Species == "" {
		return
	}
	if !ok && r.one(p+".n") == "" {
		r.faults.Add(p+".n", fault.Missing, "How many?")
	}
	if ok && n == 0 {
		r.faults.Add(p+".n", fault.Impossible, "Nought came or went: leave the row blank.")
		ok = false
	}
	if !tank.KnownGroup(m.Group) {
		r.faults.Add(p+".group", fault.NotChoice, "Say which group of plants or animals.")
		ok = false
	}
	if m.Reason == "" {
		r.faults.Add(p+".reason", fault.Missing, "Say why: added, died, missing, given away.")
		ok = false
	}
	if m.Living == "" {
		m.Living = livingOf(m.Group)
	}
	if (m.Reason == "died" || m.Reason == "missing" || m.Reason == "given" || m.Reason == "removed" || m.Reason == "moved_to") && m.N > 0 {
		m.N = -m.N
	}
	if ok {
		r.s.Movements = append(r.s.Movements, m)
	}
}

func livingOf(group string) string {
	for _, g := range tank.PlantGroups {
		if g.ID == group {
			return "plant"
		}
	}
	return "animal"
}
