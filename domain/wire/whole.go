package wire

import (
	"math"
	"reflect"
	"strconv"
	"time"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
)

// The whole of a value, field by field under the names of the program: for
// documents between two halves of the same program, which must lose nothing and
// are never kept. What is zero is left out; numbers are written with all their
// digits.

var instant = reflect.TypeFor[time.Time]()

func appendWhole(b []byte, v reflect.Value) []byte {
	if v.Type() == instant {
		return appendText(b, q.WriteInstant(v.Interface().(time.Time)))
	}
	switch v.Kind() {
	case reflect.Bool:
		return strconv.AppendBool(b, v.Bool())
	case reflect.String:
		return appendText(b, v.String())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return strconv.AppendInt(b, v.Int(), 10)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return strconv.AppendUint(b, v.Uint(), 10)
	case reflect.Float64:
		return appendExact(b, v.Float())
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, "null"...)
		}
		return appendWhole(b, v.Elem())
	case reflect.Slice, reflect.Array:
		b = append(b, '[')
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendWhole(b, v.Index(i))
		}
		return append(b, ']')
	case reflect.Map:
		keys := v.MapKeys()
		num.SortStable(keys, func(a, b reflect.Value) int { return compareText(a.String(), b.String()) })
		b = append(b, '{')
		for i, k := range keys {
			if i > 0 {
				b = append(b, ',')
			}
			b = append(appendText(b, k.String()), ':')
			b = appendWhole(b, v.MapIndex(k))
		}
		return append(b, '}')
	case reflect.Struct:
		return appendFields(b, v)
	}
	panic("wire: no way to write " + v.Type().String())
}

func compareText(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func appendFields(b []byte, v reflect.Value) []byte {
	b = append(b, '{')
	first := true
	for i := range v.NumField() {
		if f := v.Type().Field(i); !f.IsExported() || v.Field(i).IsZero() {
			continue
		}
		if !first {
			b = append(b, ',')
		}
		first = false
		b = append(appendText(b, v.Type().Field(i).Name), ':')
		b = appendWhole(b, v.Field(i))
	}
	return append(b, '}')
}

// appendExact writes what reads back as the same number, the infinities and
// what is no number as text.
func appendExact(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return appendText(b, strconv.FormatFloat(v, 'g', -1, 64))
	}
	return strconv.AppendFloat(b, v, 'g', -1, 64)
}

// readWhole reads what appendWhole wrote. Whatever it does not know is a fault:
// the document then comes from another version of the program.
func readWhole(n *node, v reflect.Value, path string) error {
	odd := fault.New(fault.Malformed, "The tank's document comes from another version of the program (%s).", path)
	if v.Type() == instant {
		t, ok := q.ParseInstant(n.text)
		if !ok {
			return odd
		}
		v.Set(reflect.ValueOf(t))
		return nil
	}
	fits := true
	switch v.Kind() {
	case reflect.Bool:
		fits = n.kind == isBool
		v.SetBool(n.truth)
	case reflect.String:
		fits = n.kind == isText
		v.SetString(n.text)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		fits = n.kind == isNumber && n.number == math.Trunc(n.number)
		v.SetInt(int64(n.number))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		fits = n.kind == isNumber && n.number == math.Trunc(n.number) && n.number >= 0
		v.SetUint(uint64(n.number))
	case reflect.Float64:
		x := n.number
		if n.kind == isText {
			var err error
			x, err = strconv.ParseFloat(n.text, 64)
			fits = err == nil
		} else {
			fits = n.kind == isNumber
		}
		v.SetFloat(x)
	case reflect.Pointer:
		if n.kind == isNull {
			return nil
		}
		v.Set(reflect.New(v.Type().Elem()))
		return readWhole(n, v.Elem(), path)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), len(n.list), len(n.list)))
		return readItems(n, v, path)
	case reflect.Array:
		if len(n.list) != v.Len() {
			return odd
		}
		return readItems(n, v, path)
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for i, k := range n.keys {
			item := reflect.New(v.Type().Elem()).Elem()
			if err := readWhole(&n.list[i], item, path+"."+k); err != nil {
				return err
			}
			v.SetMapIndex(reflect.ValueOf(k).Convert(v.Type().Key()), item)
		}
		fits = n.kind == isObject
	case reflect.Struct:
		fits = n.kind == isObject
		for i, k := range n.keys {
			f := v.FieldByName(k)
			if !f.CanSet() {
				return fault.New(fault.Malformed, "The tank's document comes from another version of the program (%s.%s).", path, k)
			}
			if err := readWhole(&n.list[i], f, path+"."+k); err != nil {
				return err
			}
		}
	default:
		fits = false
	}
	if !fits {
		return odd
	}
	return nil
}

func readItems(n *node, v reflect.Value, path string) error {
	if n.kind != isList {
		return fault.New(fault.Malformed, "The tank's document comes from another version of the program (%s).", path)
	}
	for i := range n.list {
		if err := readWhole(&n.list[i], v.Index(i), path); err != nil {
			return err
		}
	}
	return nil
}
