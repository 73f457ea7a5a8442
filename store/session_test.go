package store_test

import (
	"context"
	"testing"

	"scaperound/store/storetest"
)

func TestOnlyExpiredSessionsAreDropped(t *testing.T) {
	ctx, db := context.Background(), storetest.New(t)
	if _, err := db.Pool().Exec(ctx, `INSERT INTO sessions (token, data, expiry) VALUES
		('over', '', now() - interval '1 second'), ('living', '', now() + interval '1 hour')`); err != nil {
		t.Fatal(err)
	}
	if err := db.DropExpiredSessions(ctx); err != nil {
		t.Fatal(err)
	}
	var left string
	if err := db.Pool().QueryRow(ctx, `SELECT string_agg(token, ' ') FROM sessions`).Scan(&left); err != nil || left != "living" {
		t.Errorf("left: %q; %v", left, err)
	}
}
