package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"scaperound/domain/fault"
)

// said runs the program in this process and returns its exit status and what
// it wrote.
func said(t *testing.T, environ []string, stdin string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	e := &env{stdin: strings.NewReader(stdin), stdout: &out, stderr: &errs, environ: environ}
	status = run(context.Background(), e, args)
	return status, out.String(), errs.String()
}

func TestHelpConfigShowsNoSecret(t *testing.T) {
	file := filepath.Join(t.TempDir(), "secret")
	if err := os.WriteFile(file, []byte("in-the-file-47113\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	secrets := 0
	for _, s := range settings {
		for _, environ := range [][]string{
			{s.name + "=value-47113"},
			{s.name + "_FILE=" + file},
		} {
			status, out, _ := said(t, environ, "", "help", "config")
			if status != statusOK {
				t.Fatalf("%v: status %d", environ, status)
			}
			for _, each := range settings {
				if !strings.Contains(out, "\n"+each.name) {
					t.Errorf("%s is not listed", each.name)
				}
			}
			if s.secret && strings.Contains(out, "47113") {
				t.Errorf("%v: help config shows the secret:\n%s", environ, out)
			}
			if s.secret && !strings.Contains(out, "not shown") {
				t.Errorf("%v: help config does not say that the secret is set", environ)
			}
		}
		if s.secret {
			secrets++
		}
	}
	for _, name := range []string{"DATABASE_URL", "SCAPEROUND_DATABASE_PASSWORD", "SCAPEROUND_LINK_KEY"} {
		for _, s := range settings {
			if s.name == name && !s.secret {
				t.Errorf("%s must be a secret", name)
			}
		}
	}
	if secrets < 3 {
		t.Errorf("%d secrets among the settings, at least 3 expected", secrets)
	}
}

func TestConfigRefusals(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty")
	if err := os.WriteFile(empty, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		environ string // NAME=value, spaces between
		names   string // the variable that the refusal must name
		word    string // and a word of the reason
	}{
		{"SCAPEROUND_PUBLIC_URL=tanks.example.org", "SCAPEROUND_PUBLIC_URL", "https://"},
		{"SCAPEROUND_PUBLIC_URL=ftp://tanks.example.org", "SCAPEROUND_PUBLIC_URL", "https://"},
		{"SCAPEROUND_PUBLIC_URL=https://", "SCAPEROUND_PUBLIC_URL", "host"},
		{"SCAPEROUND_PUBLIC_URL=https://a.example.org/x", "SCAPEROUND_PUBLIC_URL", "end after the host"},
		{"SCAPEROUND_PUBLIC_URL=https://m:w@a.example.org", "SCAPEROUND_PUBLIC_URL", "password"},
		{"SCAPEROUND_PUBLIC_URL=http://tanks.example.org", "SCAPEROUND_PUBLIC_URL", "SCAPEROUND_INSECURE=1"},
		{"SCAPEROUND_INSECURE=yes", "SCAPEROUND_INSECURE", "1 or 0"},
		{"SCAPEROUND_LISTEN=8420", "SCAPEROUND_LISTEN", "port"},
		{"SCAPEROUND_LISTEN=:70000", "SCAPEROUND_LISTEN", "port"},
		{"SCAPEROUND_TLS_CERT=" + dir + "/none SCAPEROUND_TLS_KEY=" + empty, "SCAPEROUND_TLS_CERT", "no such file"},
		{"SCAPEROUND_TLS_CERT=" + empty, "SCAPEROUND_TLS_KEY", "go together"},
		{"SCAPEROUND_TLS_CERT=" + empty + " SCAPEROUND_TLS_KEY=" + empty, "SCAPEROUND_TLS_CERT", "PEM"},
		{"SCAPEROUND_TRUSTED_PROXY=proxy", "SCAPEROUND_TRUSTED_PROXY", "network"},
		{"SCAPEROUND_TRUSTED_PROXY=10.0.0.0/40", "SCAPEROUND_TRUSTED_PROXY", "network"},
		{"SCAPEROUND_POSTGRES_BIN=" + empty, "SCAPEROUND_POSTGRES_BIN", "folder"},
		{"SCAPEROUND_LINK_KEY=abcd", "SCAPEROUND_LINK_KEY", "32 bytes"},
		{"SCAPEROUND_LINK_KEY=moss", "SCAPEROUND_LINK_KEY", "hexadecimal"},
		{"SCAPEROUND_LINK_KEY_FILE=" + empty, "SCAPEROUND_LINK_KEY_FILE", "empty"},
		{"SCAPEROUND_LINK_KEY_FILE=" + dir + "/none", "SCAPEROUND_LINK_KEY_FILE", "cannot be read"},
		{"DATABASE_URL=mysql://h/d", "DATABASE_URL", "postgres://"},
		{"DATABASE_URL=postgres://h", "DATABASE_URL", "no database"},
		{"DATABASE_URL=postgres://h/d DATABASE_URL_FILE=" + empty, "DATABASE_URL_FILE", "is set too"},
		{"SCAPEROUND_DATABASE_PASSWORD=moss", "SCAPEROUND_DATABASE_PASSWORD", "DATABASE_URL"},
		{"SCAPEROUND_LOG=loud", "SCAPEROUND_LOG", "text or json"},
		{"SCAPEROUND_LOG=json:loud", "SCAPEROUND_LOG", "level"},
	} {
		_, err := readConfig(&env{environ: strings.Fields(c.environ)})
		if !fault.Is(err, fault.Invalid) {
			t.Errorf("%s: not refused: %v", c.environ, err)
			continue
		}
		on := fault.Of(err).Fields.On(c.names)
		if len(on) == 0 || !strings.Contains(on[0].Text, c.word) {
			t.Errorf("%s: refusal does not name %s with %q: %v", c.environ, c.names, c.word, err)
		}
	}
}

// A wrong value may be a mistyped secret: the refusal must not repeat it.
func TestRefusalRepeatsNoSecret(t *testing.T) {
	for _, environ := range []string{
		"DATABASE_URL=mysql://maren:47113@h/d",
		"DATABASE_URL=postgres://maren:47113%zz@h/d",
		"DATABASE_URL=postgres://maren:47113@h",
		"SCAPEROUND_LINK_KEY=47113",
		"SCAPEROUND_DATABASE_PASSWORD=47113",
	} {
		_, err := readConfig(&env{environ: []string{environ}})
		if err == nil {
			t.Errorf("%s: not refused", environ)
		} else if strings.Contains(plain(err), "47113") {
			t.Errorf("the refusal repeats the secret: %s", plain(err))
		}
	}
}

func TestConfigTellsAllFaultsAtOnce(t *testing.T) {
	_, err := readConfig(&env{environ: []string{"SCAPEROUND_LISTEN=x", "SCAPEROUND_LOG=x", "SCAPEROUND_INSECURE=x"}})
	if n := len(fault.Of(err).Fields); n != 3 {
		t.Errorf("%d faults told, want 3: %v", n, err)
	}
}

func TestConfigAccepts(t *testing.T) {
	file := filepath.Join(t.TempDir(), "password")
	if err := os.WriteFile(file, []byte("riffle:/@ 9\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	c, err := readConfig(&env{environ: []string{
		"SCAPEROUND_PUBLIC_URL=https://Tanks.Example.org:8443/",
		"SCAPEROUND_TRUSTED_PROXY=127.0.0.1, 10.1.2.3/8,::1",
		"DATABASE_URL=postgres://shop@db:5432/scaperound?sslmode=disable",
		"SCAPEROUND_DATABASE_PASSWORD_FILE=" + file,
		"SCAPEROUND_LOG=json:warn",
		"SCAPEROUND_LISTEN=",
	}})
	if err != nil {
		t.Fatal(err)
	}
	if got := c.publicURL.String(); got != "https://tanks.example.org:8443" {
		t.Errorf("public address %s", got)
	}
	if len(c.trusted) != 3 || c.trusted[1].String() != "10.0.0.0/8" {
		t.Errorf("trusted %v", c.trusted)
	}
	if want := "postgres://shop:riffle%3A%2F%40%209@db:5432/scaperound?sslmode=disable"; c.databaseURL != want {
		t.Errorf("database %s, want %s", c.databaseURL, want)
	}
	if !c.logJSON || c.listen != defaultListen {
		t.Errorf("log json %v, listen %s", c.logJSON, c.listen)
	}
	for _, address := range []string{"http://127.0.0.1:8420", "http://[::1]:8420", "http://localhost:8420"} {
		if _, err := readConfig(&env{environ: []string{"SCAPEROUND_PUBLIC_URL=" + address}}); err != nil {
			t.Errorf("%s is this machine's own: %v", address, err)
		}
	}
	if _, err := readConfig(&env{environ: []string{"SCAPEROUND_PUBLIC_URL=http://tanks.example.org", "SCAPEROUND_INSECURE=1"}}); err != nil {
		t.Errorf("insecure on purpose: %v", err)
	}
}
