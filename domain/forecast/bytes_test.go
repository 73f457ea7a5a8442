package forecast

import (
	"reflect"
	"testing"
)

// fill gives every number of the value one of its own and every flag true, so
// that a field that is left behind shows.
func fill(v reflect.Value, next *int) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), next)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), next)
		}
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		*next++
		v.SetFloat(float64(*next) + 0.1)
	default:
		*next++
		v.SetInt(int64(*next))
	}
}

func TestEveryNumberOfAStateIsStored(t *testing.T) {
	var s State
	n := 0
	fill(reflect.ValueOf(&s).Elem(), &n)
	s.Version = Version
	got, ok := StateOf(s.Bytes())
	if !ok || got != s {
		t.Errorf("read back, ok %v:\n%+v\nstored:\n%+v", ok, got, s)
	}
}

func TestOtherBytesAreNoState(t *testing.T) {
	s := State{Version: Version, Visits: 3}
	b := s.Bytes()
	older := s
	older.Version = Version + 1
	bad := append([]byte(nil), b...)
	copy(bad[8*20:], []byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff}) // not a number
	for name, x := range map[string][]byte{"nothing": nil, "short": b[:len(b)-1], "long": append(b[:len(b):len(b)], 0), "other version": older.Bytes(), "not a number": bad} {
		if _, ok := StateOf(x); ok {
			t.Errorf("%s is taken for a state", name)
		}
	}
	if got := (&State{}).Bytes(); got != nil {
		t.Errorf("the zero state is stored as %d bytes", len(got))
	}
}

func FuzzStateOf(f *testing.F) {
	s := State{Version: Version, Visits: 3}
	f.Add(s.Bytes())
	f.Fuzz(func(t *testing.T, b []byte) {
		if s, ok := StateOf(b); ok && s.Version != Version {
			t.Errorf("version %d is taken", s.Version)
		}
	})
}
