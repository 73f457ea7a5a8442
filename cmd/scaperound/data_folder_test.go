package main

import (
	"os"
	"path/filepath"
	"testing"

	"scaperound/domain/share"
)

func TestLinkKeyIsMadeOnceAndKept(t *testing.T) {
	dir := t.TempDir()
	first, err := loadLinkKey(&config{}, dir)
	if err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(filepath.Join(dir, linkKeyFile))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Fatalf("key file %v, %v", info, err)
	}
	again, err := loadLinkKey(&config{}, dir)
	if err != nil || first != again || first == (share.Key{}) {
		t.Errorf("another key the second time, or none; %v", err)
	}
	other, err := loadLinkKey(&config{}, t.TempDir())
	if err != nil || first == other {
		t.Errorf("two folders have the same key; %v", err)
	}
}

func TestDamagedLinkKeyIsNotReplaced(t *testing.T) {
	path := filepath.Join(t.TempDir(), linkKeyFile)
	if err := os.WriteFile(path, []byte("damaged"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := loadLinkKey(&config{}, filepath.Dir(path)); err == nil {
		t.Error("a damaged key was accepted")
	}
	if text, _ := os.ReadFile(path); string(text) != "damaged" {
		t.Errorf("the file was written: %q", text)
	}
}

func TestConfiguredLinkKeyNeedsNoFile(t *testing.T) {
	dir := t.TempDir()
	c := &config{linkKey: "000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f"}
	key, err := loadLinkKey(c, dir)
	if err != nil || key[31] != 0x1f {
		t.Fatalf("%x, %v", key, err)
	}
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Errorf("the folder holds %v", files)
	}
}

func TestDataFolderComesFromFlagThenVariableThenSystem(t *testing.T) {
	e := &env{environ: []string{"XDG_STATE_HOME=/state"}}
	dir, _ := dataFolder(e, "/flag", "/variable", serveFolder)
	if dir != "/flag" {
		t.Errorf("with both: %s", dir)
	}
	dir, _ = dataFolder(e, "", "/variable", serveFolder)
	if dir != "/variable" {
		t.Errorf("with the variable: %s", dir)
	}
	want := "/state/scaperound-demo"
	if os.Geteuid() == 0 {
		want = "/var/lib/scaperound-demo"
	}
	if dir, _ = dataFolder(e, "", "", demoFolder); dir != want {
		t.Errorf("with neither: %s, want %s", dir, want)
	}
}
