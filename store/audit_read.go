package store

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/staff"
)

// Changes lists who changed what, the newest first, and whether there is more.
func (db *DB) Changes(ctx context.Context, f staff.ChangeFilter) (list []staff.Change, more bool, err error) {
	if f.Person != "" && !ValidID(f.Person) {
		return nil, false, nil
	}
	rows, err := db.pool.Query(ctx, `SELECT a.id, a.at, coalesce(s.name, ''), a.verb, a.noun, a.noun_id, a.before, a.after
		FROM audit a LEFT JOIN staff s ON s.id = a.staff
		WHERE ($1 = '' OR a.staff::text = $1) AND ($2 = '' OR a.noun = $2) AND ($3 = '' OR a.noun_id = $3)
			AND ($4::timestamptz IS NULL OR a.at >= $4) AND ($5::timestamptz IS NULL OR a.at < $5) AND ($6::bigint = 0 OR a.id < $6)
		ORDER BY a.id DESC LIMIT $7`, f.Person, f.Noun, f.NounID, null(f.From), null(f.To), f.Before, f.Most+1)
	list, err = collect(rows, err, func(row pgx.Row) (c staff.Change, err error) {
		var was, now []byte
		if err = row.Scan(&c.ID, &c.At, &c.By, &c.Verb, &c.Noun, &c.NounID, &was, &now); err != nil {
			return c, asFault(err)
		}
		c.Was, c.Now = changeFacts(was), changeFacts(now)
		return c, nil
	})
	if len(list) > f.Most {
		list, more = list[:f.Most], true
	}
	return list, more, err
}

// ChangedNouns lists what has been changed so far.
func (db *DB) ChangedNouns(ctx context.Context) ([]string, error) {
	rows, err := db.pool.Query(ctx, `WITH RECURSIVE nouns AS (
			(SELECT noun FROM audit ORDER BY noun LIMIT 1)
			UNION ALL SELECT (SELECT a.noun FROM audit a WHERE a.noun > nouns.noun ORDER BY a.noun LIMIT 1) FROM nouns WHERE nouns.noun IS NOT NULL)
		SELECT noun FROM nouns WHERE noun IS NOT NULL ORDER BY noun`)
	return collect(rows, err, func(row pgx.Row) (noun string, err error) {
		err = row.Scan(&noun)
		return noun, asFault(err)
	})
}

// changeFacts reads what the audit wrote; a document within one is told by its
// parts: Is.Name.
func changeFacts(document []byte) []staff.ChangeFact {
	var all map[string]any
	if len(document) == 0 || json.Unmarshal(document, &all) != nil {
		return nil
	}
	var out []staff.ChangeFact
	addChangeFacts(&out, "", all)
	return out
}

func addChangeFacts(out *[]staff.ChangeFact, prefix string, all map[string]any) {
	for _, name := range slices.Sorted(maps.Keys(all)) {
		switch v := all[name].(type) {
		case nil:
		case map[string]any:
			if value, known, optional := optionalIn(v); !optional {
				addChangeFacts(out, prefix+name+".", v)
			} else if known {
				*out = append(*out, staff.ChangeFact{Name: prefix + name, Text: changeText(value)})
			}
		default:
			*out = append(*out, staff.ChangeFact{Name: prefix + name, Text: changeText(v)})
		}
	}
}

// optionalIn reads what may not be known, as the audit writes it, and whether it is.
func optionalIn(v map[string]any) (value any, known, optional bool) {
	value, has := v["V"]
	known, is := v["OK"].(bool)
	return value, known, has && is && len(v) == 2
}

func changeText(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case []any:
		parts := make([]string, len(v))
		for i, x := range v {
			parts[i] = changeText(x)
		}
		return strings.Join(parts, "; ")
	case map[string]any:
		var inner []staff.ChangeFact
		addChangeFacts(&inner, "", v)
		parts := make([]string, len(inner))
		for i, x := range inner {
			parts[i] = x.Name + " " + x.Text
		}
		return strings.Join(parts, ", ")
	}
	return fmt.Sprint(v)
}
