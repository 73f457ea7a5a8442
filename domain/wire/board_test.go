package wire_test

import (
	"reflect"
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/wire"
)

// Whatever a board holds can be written whole: a field that nobody outside its
// package may read, or of a kind that is not written, would be lost on the way.
func TestBoardHoldsNothingThatIsLost(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(path string, x reflect.Type)
	walk = func(path string, x reflect.Type) {
		if seen[x] || x == reflect.TypeFor[time.Time]() {
			return
		}
		seen[x] = true
		switch x.Kind() {
		case reflect.Struct:
			for i := range x.NumField() {
				f := x.Field(i)
				if !f.IsExported() {
					// What only the planner reads while it plans is no part of a kept task.
					if f.Name != "weight" {
						t.Errorf("%s.%s is not exported", path, f.Name)
					}
					continue
				}
				walk(path+"."+f.Name, f.Type)
			}
		case reflect.Slice, reflect.Array, reflect.Pointer:
			walk(path+"[]", x.Elem())
		case reflect.Map:
			if x.Key().Kind() != reflect.String {
				t.Errorf("%s has keys of %s", path, x.Key())
			}
			walk(path+"{}", x.Elem())
		case reflect.Interface, reflect.Func, reflect.Chan, reflect.Complex64, reflect.Complex128, reflect.Float32, reflect.UnsafePointer, reflect.Uintptr:
			t.Errorf("%s is a %s", path, x.Kind())
		}
	}
	walk("Board", reflect.TypeFor[wire.Board]())
	if len(seen) < 30 {
		t.Errorf("only %d types were looked at", len(seen))
	}
}

// The clock of a board is the zone's own, over both changes of the year.
func TestZoneOfABoardIsTheZone(t *testing.T) {
	for _, name := range []string{"Europe/Dublin", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "Pacific/Auckland"} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		var z wire.Zone
		for at, last := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2027, 2, 1, 0, 0, 0, 0, time.UTC); !at.After(last); {
			_, offset := at.In(zone).Zone()
			z = append(z, wire.Shift{From: at.UTC(), Offset: time.Duration(offset) * time.Second})
			_, end := at.In(zone).ZoneBounds()
			if end.IsZero() {
				break
			}
			at = end
		}
		skipped := 0
		for at := time.Date(2026, 1, 3, 0, 0, 0, 0, time.UTC); at.Year() == 2026; at = at.Add(17 * time.Minute) {
			l := at.In(zone)
			d, m := z.Local(at)
			if d != q.DateOf(l) || int(m) != l.Hour()*60+l.Minute() {
				t.Fatalf("%s: %s is %s %s, want %s", name, at, d, m, l)
			}
			back := z.Wall(d, m)
			if d2, m2 := z.Local(back); d2 != d || m2 != m || back.After(at) {
				t.Fatalf("%s: %s %s is %s, want %s or its first", name, d, m, back, at)
			}
			if !back.Equal(at.Truncate(time.Minute)) {
				skipped++
			}
		}
		if skipped > 10 {
			t.Errorf("%s: %d moments have another wall time", name, skipped)
		}
	}
}
