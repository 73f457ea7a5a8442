package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"log/slog"
	"math/big"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"scaperound/store/storetest"
)

// writeCertificate writes a certificate for this machine, signed by itself.
func writeCertificate(t *testing.T, certFile, keyFile string, serial int64) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(serial), Subject: pkix.Name{CommonName: "localhost"}, DNSNames: []string{"localhost"},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour)}
	der, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		t.Fatal(err)
	}
	keyDER, err := x509.MarshalECPrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	for name, block := range map[string]*pem.Block{certFile: {Type: "CERTIFICATE", Bytes: der}, keyFile: {Type: "EC PRIVATE KEY", Bytes: keyDER}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func TestServeWithACertificateOfItsOwn(t *testing.T) {
	dir := t.TempDir()
	cert, key := filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	writeCertificate(t, cert, key, 1)
	address := freeAddress(t)
	environ := []string{"SCAPEROUND_LISTEN=" + address, "SCAPEROUND_PUBLIC_URL=https://" + strings.Replace(address, "127.0.0.1", "localhost", 1),
		"SCAPEROUND_TLS_CERT=" + cert, "SCAPEROUND_TLS_KEY=" + key, "DATABASE_URL=" + storetest.Clone(t), "SCAPEROUND_DATA=" + dir}
	p := start(t, environ, "serve")
	p.says(t, "first-start")
	if status, _, errs := said(t, environ, "", "ready"); status != statusOK {
		t.Errorf("ready: exit status %d, said %q", status, errs)
	}
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true, ServerName: "localhost"}}}
	answer, err := client.Get("https://" + address + "/sign-in")
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusOK || answer.TLS.Version < tls.VersionTLS12 {
		t.Errorf("status %s, TLS %x", answer.Status, answer.TLS.Version)
	}
}

func TestRenewedCertificateIsTakenUp(t *testing.T) {
	dir := t.TempDir()
	c := &certificate{certFile: filepath.Join(dir, "cert.pem"), keyFile: filepath.Join(dir, "key.pem"), log: slog.New(slog.DiscardHandler)}
	if _, err := c.get(nil); err == nil {
		t.Error("no file, and no error")
	}
	serial := func() string {
		t.Helper()
		pair, err := c.get(nil)
		if err != nil {
			t.Fatal(err)
		}
		leaf, err := x509.ParseCertificate(pair.Certificate[0])
		if err != nil {
			t.Fatal(err)
		}
		return leaf.SerialNumber.String()
	}
	writeCertificate(t, c.certFile, c.keyFile, 1)
	first := serial()
	writeCertificate(t, c.certFile, c.keyFile, 2)
	if got := serial(); got != first {
		t.Errorf("read again at once: %s", got)
	}
	c.read = time.Now().Add(-2 * rereadAfter)
	if got := serial(); got != "2" {
		t.Errorf("after an hour it still shows %s", got)
	}
	if err := os.WriteFile(c.keyFile, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	c.read = time.Now().Add(-2 * rereadAfter)
	if got := serial(); got != "2" {
		t.Errorf("a damaged file took the certificate away: %s", got)
	}
}
