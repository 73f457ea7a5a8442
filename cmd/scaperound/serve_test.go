package main

import (
	"context"
	"net"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"scaperound/store/storetest"
)

// freeAddress is a loopback address that nobody listened on a moment ago.
func freeAddress(t testing.TB) string {
	t.Helper()
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	return ln.Addr().String()
}

func shopEnviron(address string, more ...string) []string {
	return append([]string{"SCAPEROUND_LISTEN=" + address, "SCAPEROUND_PUBLIC_URL=http://" + address}, more...)
}

var firstStart = regexp.MustCompile(`http://\S+/first-start/\S+`)

func TestFirstStartPrintsAnAddressForTheOwner(t *testing.T) {
	needPostgres(t)
	dir, address := newFolder(t), freeAddress(t)
	environ := shopEnviron(address, "SCAPEROUND_DATA="+dir)
	p := start(t, environ, "serve")
	p.says(t, "Too late?")
	first := firstStart.FindString(p.out())
	if first == "" {
		t.Fatal("no address is printed")
	}
	if status, _ := get(t, first); status != http.StatusOK {
		t.Errorf("the address answers %d", status)
	}
	if strings.Contains(p.errs(), first[strings.LastIndex(first, "/")+1:]) {
		t.Error("the token is in the log")
	}
	if status := p.stop(t, terminate); status != statusOK {
		t.Errorf("exit status %d", status)
	}

	// Another start, another address; the first one is dead.
	p = start(t, environ, "serve")
	p.says(t, "Too late?")
	second := firstStart.FindString(p.out())
	if second == first {
		t.Error("the same address twice")
	}
	if status, _ := get(t, first); status != http.StatusNotFound {
		t.Errorf("the old address answers %d", status)
	}

	// An account made beside the running server is the end of it.
	status, _, errs := said(t, environ, "", "user", "add", "maren@fernweir.example", "--role", "owner")
	if status != statusUsage || !strings.Contains(errs, "password") {
		t.Errorf("without a password: exit status %d, said %q", status, errs)
	}
	status, out, errs := said(t, environ, "nine green stones\n", "user", "add", "maren@fernweir.example", "--role", "owner")
	if status != statusOK {
		t.Fatalf("user add: exit status %d, said %q %q", status, out, errs)
	}
	if !signsIn(t, "http://"+address, signIn{"maren@fernweir.example", "nine green stones"}) {
		t.Error("the new owner cannot sign in")
	}
	if status := p.stop(t, terminate); status != statusOK {
		t.Errorf("exit status %d", status)
	}
	p = start(t, environ, "serve")
	p.says(t, "listens on")
	if status, _ := get(t, "http://"+address+"/readyz"); status != http.StatusOK {
		t.Errorf("/readyz: %d", status)
	}
	if strings.Contains(p.out(), "first-start") {
		t.Error("an address is offered though the shop has an owner")
	}
}

func TestServeRefusesWrongConfiguration(t *testing.T) {
	for _, c := range []struct{ environ, names string }{
		{"", "SCAPEROUND_PUBLIC_URL"},
		{"SCAPEROUND_PUBLIC_URL=http://tanks.example.org", "SCAPEROUND_PUBLIC_URL"},
		{"SCAPEROUND_PUBLIC_URL=https://tanks.example.org SCAPEROUND_LISTEN=x", "SCAPEROUND_LISTEN"},
		{"SCAPEROUND_PUBLIC_URL=https://tanks.example.org DATABASE_URL=sqlite:x", "DATABASE_URL"},
	} {
		status, out, errs := said(t, strings.Fields(c.environ), "", "serve", "--data", t.TempDir())
		if status != statusUsage || !strings.Contains(errs, c.names) || out != "" {
			t.Errorf("%s: exit status %d, said %q %q", c.environ, status, out, errs)
		}
	}
}

func TestServeTellsOfATakenPort(t *testing.T) {
	ln, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer ln.Close()
	address := ln.Addr().String()
	status, _, errs := said(t, shopEnviron(address), "", "serve", "--data", t.TempDir())
	if status != statusFailed || !strings.Contains(errs, address) {
		t.Errorf("exit status %d, said %q", status, errs)
	}
}

// A database of the shop's own is never migrated behind somebody's back.
func TestServeWithADatabaseOfTheShopsOwn(t *testing.T) {
	empty := storetest.EmptyURL(t)
	address := freeAddress(t)
	environ := shopEnviron(address, "DATABASE_URL="+empty, "SCAPEROUND_DATA="+t.TempDir())
	status, _, errs := said(t, environ, "", "serve")
	if status != statusFailed || !strings.Contains(errs, "scaperound migrate") {
		t.Fatalf("behind: exit status %d, said %q", status, errs)
	}
	if status, out, errs := said(t, environ, "", "migrate"); status != statusOK || !strings.Contains(out, "applied") {
		t.Fatalf("migrate: exit status %d, said %q %q", status, out, errs)
	}
	if status, out, _ := said(t, environ, "", "migrate"); status != statusOK || strings.Contains(out, "applied") {
		t.Errorf("migrate again: exit status %d, said %q", status, out)
	}
	p := start(t, environ, "serve")
	p.says(t, "first-start")
	if status, _, errs := said(t, environ, "", "ready"); status != statusOK {
		t.Errorf("ready: exit status %d, said %q", status, errs)
	}
	if status := p.stop(t, terminate); status != statusOK {
		t.Errorf("exit status %d", status)
	}
	if status, _, _ := said(t, environ, "", "ready"); status != statusFailed {
		t.Errorf("ready without a server: exit status %d", status)
	}
	// One that a newer program made is refused.
	db := storetest.Open(t, empty)
	if _, err := db.Pool().Exec(context.Background(), `INSERT INTO goose_db_version (version_id, is_applied) VALUES (29990101000000, true)`); err != nil {
		t.Fatal(err)
	}
	for _, command := range []string{"serve", "migrate"} {
		if status, _, errs := said(t, environ, "", command); status != statusFailed || !strings.Contains(errs, "newer") {
			t.Errorf("%s on a newer database: exit status %d, said %q", command, status, errs)
		}
	}
}

func TestServeRefusesADemosFolder(t *testing.T) {
	dir := newFolder(t)
	if err := claimDemoFolder(dir); err != nil {
		t.Fatal(err)
	}
	status, _, errs := said(t, shopEnviron(freeAddress(t)), "", "serve", "--data", dir)
	if status != statusFailed || !strings.Contains(errs, "belongs to a demo") {
		t.Errorf("exit status %d, said %q", status, errs)
	}
}
