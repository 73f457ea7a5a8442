package store

import "context"

// record notes who changed what: before and after are the fields that matter,
// by name, and nil where there is no before or no after. by is empty for the
// program itself. No secret and no password hash belongs here: what is written
// can never be taken out again.
func (t Tx) record(ctx context.Context, by, verb, noun, id string, before, after map[string]any) error {
	const q = `INSERT INTO audit (at, staff, verb, noun, noun_id, before, after) VALUES ($1, $2, $3, $4, $5, $6, $7)`
	_, err := t.Exec(ctx, q, t.Now, orNull(by), verb, noun, id, orNullMap(before), orNullMap(after))
	return asFault(err)
}

// orNull is NULL for an empty text, for keys that may be missing.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

func orNullMap(m map[string]any) any {
	if m == nil {
		return nil
	}
	return m
}
