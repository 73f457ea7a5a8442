package visit

import (
	"cmp"
	"strconv"
	"time"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// How far clocks may stray.
const (
	skewTold   = 2 * time.Minute // a larger one is corrected, kept and shown
	aheadLimit = 5 * time.Minute // a visit later than now by more than this is refused
)

// New checks what must hold and makes a record of a submission that Parse read
// without faults. received is the server's clock.
func New(s Submission, setup tank.Setup, received time.Time, c Context) (Record, error) {
	rec := s.Record
	var faults fault.Fields
	rec.Received = received.UTC()
	rec.correctSkew()
	if rec.Performed.After(received.Add(aheadLimit)) {
		faults.Add("performed", fault.Impossible, "The visit would be in the future. Is the tablet's clock right?")
	}
	if rec.Arrived.OK && rec.Left.OK && rec.Left.V.Before(rec.Arrived.V) {
		faults.Add("left", fault.Impossible, "One cannot leave before one has arrived.")
	}
	rec.Day, rec.Minute = c.Local(rec.Performed)
	rec.Readings = make([]Reading, 0, len(s.Typed))
	for _, t := range s.Typed {
		meant, why := t.meaning(setup.Kits)
		if why != "" {
			faults.Add(t.Field, fault.NotUnit, "%s", why)
			continue
		}
		rec.Readings = append(rec.Readings, Reading{
			Kind: t.Kind, Phase: t.Phase, Drawn: drawnAt(t, s, rec.Performed), Interval: meant,
			Lot: t.Lot, Typed: t.Text, TypedUnit: t.Unit, Confirmed: t.Settled,
		})
	}
	if s.LeaveAsked {
		faults = append(faults, missingLeave(rec.Leave)...)
		faults = append(faults, missingDeath(rec.Since)...)
	}
	if len(rec.Since) > 1 {
		for _, x := range rec.Since {
			if x.What == "nothing_new" {
				faults.Add("since", fault.NotChoice, "“Nothing new” and something new cannot both be.")
			}
		}
	}
	if setup.SetUpOn.OK && rec.Day < setup.SetUpOn.V && rec.Kind != Build {
		rec.Flags = append(rec.Flags, "before-set-up")
	}
	if setup.State == tank.Ended {
		rec.Flags = append(rec.Flags, "tank-ended")
	}
	rec.inOrder()
	return rec, faults.Err()
}

// inOrder sorts what has no order of its own, so that a record read back from
// anywhere is the same record.
func (r *Record) inOrder() {
	num.SortStable(r.Readings, func(a, b Reading) int { return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Phase, b.Phase)) })
	num.SortStable(r.Signs, func(a, b Sign) int { return cmp.Compare(a.ID, b.ID) })
	num.SortStable(r.Since, func(a, b Since) int { return cmp.Compare(a.What, b.What) })
	num.SortStable(r.Buckets, func(a, b BucketRun) int { return -cmp.Compare(a.Phase, b.Phase) })
	num.SortStable(r.Leave, func(a, b Leave) int { return cmp.Compare(a.Item, b.Item) })
	num.SortStable(r.Tasks, func(a, b TaskAnswer) int { return cmp.Compare(a.Task, b.Task) })
	num.SortStable(r.Movements, func(a, b Movement) int {
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(a.Species, b.Species), cmp.Compare(a.Reason, b.Reason), cmp.Compare(a.N, b.N))
	})
}

// correctSkew moves the device's times onto the server's clock where the two
// disagree by more than a slow answer could explain.
func (r *Record) correctSkew() {
	if !r.Sent.OK {
		return
	}
	skew := r.Sent.V.Sub(r.Received)
	if skew > -skewTold && skew < skewTold {
		return
	}
	r.Skew = skew
	r.Flags = append(r.Flags, "clock:"+strconv.Itoa(int(skew/time.Second)))
	r.Performed = r.Performed.Add(-skew)
	if r.Arrived.OK {
		r.Arrived.V = r.Arrived.V.Add(-skew)
	}
	if r.Left.OK {
		r.Left.V = r.Left.V.Add(-skew)
	}
}

func drawnAt(t TypedReading, s Submission, performed time.Time) time.Time {
	switch {
	case t.Drawn.OK:
		return t.Drawn.V.Add(-s.skewOf(performed))
	case s.Drawn.OK && t.Phase != After && t.Phase != Dosed:
		return s.Drawn.V.Add(-s.skewOf(performed))
	}
	return performed
}

// skewOf is by how much the visit's own time was moved.
func (s Submission) skewOf(performed time.Time) time.Duration { return s.Performed.Sub(performed) }

func missingLeave(said []Leave) (faults fault.Fields) {
	for _, item := range LeaveItems {
		found := false
		for _, l := range said {
			found = found || l.Item == item
		}
		if !found {
			faults.Add("leave."+item, fault.Missing, "The leave list is the one part that cannot be skipped.")
		}
	}
	return faults
}

func missingDeath(since []Since) (faults fault.Fields) {
	for _, s := range since {
		if s.What == "died" && s.Note == "" {
			faults.Add("since.died.note", fault.Missing, "Write down what you saw: species, number, gills, skin, posture.")
		}
	}
	return faults
}

// Physical reports whether somebody stood at the tank.
func (k Kind) Physical() bool { return k != ByPhone }

// WallUTC is a Context's Wall and Local for a shop that lives in UTC, for
// commands and tests that have no zone.
func WallUTC() (wall func(q.Date, q.MinuteOfDay) time.Time, local func(time.Time) (q.Date, q.MinuteOfDay)) {
	return func(d q.Date, m q.MinuteOfDay) time.Time { return d.Midnight().Add(time.Duration(m) * time.Minute) },
		func(t time.Time) (q.Date, q.MinuteOfDay) {
			t = t.UTC()
			return q.DateOf(t), q.MinuteOfDay(t.Hour()*60 + t.Minute())
		}
}
