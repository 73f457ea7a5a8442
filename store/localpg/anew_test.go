//go:build linux || darwin

package localpg

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5"
)

func TestAnewLeavesNothing(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	s, err := Start(ctx, Options{Data: oldFolder(t)})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Stop(ctx)
	held, err := pgx.Connect(ctx, s.URL()) // an open connection must not stop it
	if err != nil {
		t.Fatal(err)
	}
	defer held.Close(ctx)
	if _, err := held.Exec(ctx, `CREATE TABLE kept (id int)`); err != nil {
		t.Fatal(err)
	}
	if err := s.Anew(ctx); err != nil {
		t.Fatal(err)
	}
	conn, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(ctx)
	var tables int
	if err := conn.QueryRow(ctx, `SELECT count(*) FROM pg_tables WHERE schemaname = 'public'`).Scan(&tables); err != nil || tables != 0 {
		t.Errorf("%d tables are left; %v", tables, err)
	}
	if _, err := conn.Exec(ctx, `CREATE TABLE mine (id int)`); err != nil {
		t.Errorf("the ordinary role cannot make a table: %v", err)
	}
}

func TestRunningIsKnownOnlyWhileItRuns(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	if _, ok := Running(dataFolder(t)); ok {
		t.Error("a folder that is not there runs")
	}
	data := oldFolder(t)
	s, err := Start(ctx, Options{Data: data})
	if err != nil {
		t.Fatal(err)
	}
	url, ok := Running(data)
	if !ok || url != s.URL() {
		t.Errorf("running: %v, at the same address: %v", ok, url == s.URL())
	}
	if err := s.Stop(ctx); err != nil {
		t.Fatal(err)
	}
	if _, ok := Running(data); ok {
		t.Error("a stopped one runs")
	}
}
