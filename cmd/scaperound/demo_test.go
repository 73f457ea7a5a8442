package main

import (
	"context"
	"encoding/json"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// readDemo waits for demo.json of a new start and returns it.
func readDemo(t testing.TB, p *program, dir string) running {
	t.Helper()
	p.says(t, "The demo is ready")
	var r running
	deadline := time.Now().Add(patience)
	for {
		text, err := os.ReadFile(filepath.Join(dir, demoReady))
		if err == nil {
			if err := json.Unmarshal(text, &r); err != nil {
				t.Fatalf("demo.json: %v\n%s", err, text)
			}
			return r
		}
		if time.Now().After(deadline) {
			t.Fatal(err)
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// signsIn posts the sign-in form and says whether it was taken.
func signsIn(t testing.TB, address string, who signIn) bool {
	t.Helper()
	answer, err := direct.PostForm(address+"/sign-in", url.Values{"email": {who.Email}, "password": {who.Password}})
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	return answer.StatusCode == http.StatusSeeOther && len(answer.Cookies()) > 0
}

func TestDemoFromStartToStop(t *testing.T) {
	needPostgres(t)
	dir := newFolder(t)
	flags := []string{"demo", "--data", dir, "--listen", "127.0.0.1:0", "--seed", "7", "--today", "2026-11-24", "--yes"}
	p := start(t, nil, flags...)
	r := readDemo(t, p, dir)

	if runtime.GOOS != "windows" {
		info, err := os.Stat(filepath.Join(dir, demoReady))
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("demo.json: %v, %v", info, err)
		}
	}
	if r.PID != p.cmd.Process.Pid {
		t.Errorf("pid %d, want %d", r.PID, p.cmd.Process.Pid)
	}
	if len(r.Technicians) != 2 {
		t.Errorf("%d technicians, want 2", len(r.Technicians))
	}
	for _, who := range append([]signIn{r.Owner}, r.Technicians...) {
		if !strings.Contains(p.out(), who.Email) || !strings.Contains(p.out(), who.Password) {
			t.Errorf("the sign-in of %s is not printed", who.Email)
		}
		if !signsIn(t, r.URL, who) {
			t.Errorf("%s cannot sign in", who.Email)
		}
		if signsIn(t, r.URL, signIn{who.Email, who.Password + "x"}) {
			t.Errorf("%s signs in with a wrong password", who.Email)
		}
	}
	if !strings.Contains(p.out(), r.URL) {
		t.Error("the address is not printed")
	}
	if status, _ := get(t, r.URL+"/readyz"); status != http.StatusOK {
		t.Errorf("/readyz: %d", status)
	}
	conn, err := pgx.Connect(context.Background(), r.DatabaseURL)
	if err != nil {
		t.Fatal(err)
	}
	var staff int
	if err := conn.QueryRow(context.Background(), `SELECT count(*) FROM staff`).Scan(&staff); err != nil || staff != 3 {
		t.Errorf("%d on the staff, want 3; %v", staff, err)
	}
	conn.Close(context.Background())

	if status := p.stop(t, terminate); status != statusOK {
		t.Errorf("exit status %d after SIGTERM", status)
	}
	if _, err := os.Stat(filepath.Join(dir, demoReady)); !os.IsNotExist(err) {
		t.Errorf("demo.json is still there: %v", err)
	}

	// Kept, the people and their passwords are the same; afresh they are not.
	p = start(t, nil, append(flags, "--keep")...)
	kept := readDemo(t, p, dir)
	if kept.Owner != r.Owner || kept.Tank != r.Tank || !signsIn(t, kept.URL, r.Owner) {
		t.Error("with --keep the owner cannot sign in as before")
	}
	if status := p.stop(t, interrupt); status != statusOK {
		t.Errorf("exit status %d after an interrupt", status)
	}
	p = start(t, nil, flags...)
	afresh := readDemo(t, p, dir)
	if afresh.Owner.Password == r.Owner.Password || signsIn(t, afresh.URL, r.Owner) {
		t.Error("a new demo took over an old password")
	}

	// Killed at any moment, the next start recovers by itself.
	if status := p.stop(t, os.Kill); status != -1 {
		t.Errorf("exit status %d after a kill", status)
	}
	p = start(t, nil, append(flags, "--keep")...)
	if kept := readDemo(t, p, dir); !signsIn(t, kept.URL, afresh.Owner) {
		t.Error("after a kill the owner cannot sign in")
	}
}

// Asked to end while it is still starting, it ends in order and without a fault.
func TestDemoStoppedWhileStarting(t *testing.T) {
	needPostgres(t)
	dir := newFolder(t)
	p := start(t, nil, "demo", "--data", dir, "--listen", "127.0.0.1:0")
	for deadline := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		if _, err := os.Stat(filepath.Join(dir, "postgres", "pgdata")); err == nil {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal("no database is made")
		}
	}
	if status := p.stop(t, terminate); status != statusOK {
		t.Errorf("exit status %d", status)
	}
	if strings.Contains(p.out(), "ready") {
		t.Skip("it was ready before it was asked to end")
	}
	if !strings.Contains(p.errs(), "Stopped before it was ready") {
		t.Errorf("it said %q", p.errs())
	}
	// --keep has nothing whole to keep, says so, and makes a new one.
	p = start(t, nil, "demo", "--data", dir, "--listen", "127.0.0.1:0", "--keep")
	readDemo(t, p, dir)
	if !strings.Contains(p.errs(), "no finished demo") {
		t.Errorf("it said %q", p.errs())
	}
}

func TestDemoTouchesNoForeignFolder(t *testing.T) {
	dir := newFolder(t)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	letter := filepath.Join(dir, "letter")
	if err := os.WriteFile(letter, []byte("dear"), 0o600); err != nil {
		t.Fatal(err)
	}
	p := start(t, nil, "demo", "--data", dir, "--listen", "127.0.0.1:0")
	if status := p.status(t); status != statusFailed || !strings.Contains(p.errs(), "not a demo's folder") {
		t.Errorf("exit status %d, said %q", status, p.errs())
	}
	entries, _ := os.ReadDir(dir)
	if len(entries) != 1 {
		t.Errorf("the folder holds %v", entries)
	}
}

func TestDemoRefusesWrongFlags(t *testing.T) {
	for _, flags := range []string{"--today 24.11.2026", "--listen nowhere", "--seed many", "--loud"} {
		status, _, errs := said(t, nil, "", append([]string{"demo"}, strings.Fields(flags)...)...)
		if status != statusUsage || errs == "" {
			t.Errorf("%s: exit status %d, said %q", flags, status, errs)
		}
	}
}
