package store

import (
	"context"
	"encoding/json"
	"reflect"
	"time"

	q "scaperound/domain/quantity"
)

// Audit writes one line of who changed what. before and after are structs,
// maps or nil; what is empty or not known in them is left out. by is a staff
// id, empty where the program itself did it.
func Audit(ctx context.Context, tx Tx, by, verb, noun, id string, before, after any) error {
	noteMade(ctx, noun, id)
	was, err := auditDocument(before)
	if err != nil {
		return asFault(err)
	}
	is, err := auditDocument(after)
	if err != nil {
		return asFault(err)
	}
	_, err = tx.Exec(ctx, `INSERT INTO audit (at, staff, verb, noun, noun_id, before, after) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		tx.Now, nullText(by), verb, noun, id, was, is)
	return asFault(err)
}

// auditDocument is nil or JSON text.
func auditDocument(v any) (any, error) {
	if v == nil {
		return nil, nil
	}
	text, err := json.Marshal(plainFacts(reflect.ValueOf(v)))
	return string(text), err
}

// plainFacts turns the domain's values into what JSON writes readably: dates as
// dates, unknown values left out, embedded structs on the level of their owner.
func plainFacts(v reflect.Value) any {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return nil
		}
		return plainFacts(v.Elem())
	case reflect.Struct:
		if t, ok := v.Interface().(time.Time); ok {
			return t.UTC().Format(time.RFC3339Nano)
		}
		if known := v.FieldByName("OK"); known.IsValid() && v.NumField() == 2 {
			if !known.Bool() {
				return nil
			}
			return plainFacts(v.FieldByName("V"))
		}
		m := map[string]any{}
		addFacts(m, v)
		return m
	case reflect.Slice, reflect.Array:
		if v.Len() == 0 {
			return nil
		}
		list := make([]any, v.Len())
		for i := range list {
			list[i] = plainFacts(v.Index(i))
		}
		return list
	}
	if d, ok := v.Interface().(q.Date); ok {
		return d.String()
	}
	if m, ok := v.Interface().(q.MinuteOfDay); ok {
		return m.String()
	}
	return v.Interface()
}

func addFacts(m map[string]any, v reflect.Value) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous && f.Type.Kind() == reflect.Struct {
			addFacts(m, v.Field(i))
			continue
		}
		if !f.IsExported() || v.Field(i).IsZero() {
			continue
		}
		if x := plainFacts(v.Field(i)); x != nil {
			m[f.Name] = x
		}
	}
}
