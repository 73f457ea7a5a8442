package fault

import (
	"reflect"
	"strconv"
	"strings"
)

// fill is fmt.Sprintf for the few verbs that the house's sentences use: %s, %d,
// %g with or without a precision, and %v of all but numbers with a point. The browser build has it because
// fmt alone is an eighth of what may cross the wire.
func fill(format string, args []any) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(format, "%")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		if strings.HasPrefix(rest, "%") {
			b.WriteByte('%')
			format = rest[1:]
			continue
		}
		precision := -1
		if strings.HasPrefix(rest, ".") {
			n := 1
			for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
				n++
			}
			precision, _ = strconv.Atoi(rest[1:n])
			rest = rest[n:]
		}
		if rest == "" || len(args) == 0 {
			return b.String()
		}
		b.WriteString(filled(rest[0], precision, args[0]))
		format, args = rest[1:], args[1:]
	}
}

func filled(verb byte, precision int, arg any) string {
	text := ""
	switch x := arg.(type) {
	case error:
		text = x.Error()
	case interface{ String() string }:
		text = x.String()
		if verb == 'd' || verb == 'g' {
			text = plain(arg, precision)
		}
	default:
		text = plain(arg, precision)
	}
	return text
}

// plain writes a value by what it is made of, whatever its type is called.
func plain(arg any, precision int) string {
	switch v := reflect.ValueOf(arg); v.Kind() {
	case reflect.String:
		return v.String()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return strconv.FormatInt(v.Int(), 10)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return strconv.FormatUint(v.Uint(), 10)
	case reflect.Float32, reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'g', precision, v.Type().Bits())
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	}
	return ""
}
