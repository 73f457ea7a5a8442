package main

import (
	"net/http"
	"testing"
	"time"
)

// How long from the start of the process until it is ready, as a person waits:
//
//	go test -run '^$' -bench Start -benchtime 5x ./cmd/scaperound
//
// Aims: the demo within 8 s, serve on a new folder within 3 s, on an old one
// within 0.5 s.

func BenchmarkStartDemo(b *testing.B) {
	needPostgres(b)
	dir := newFolder(b)
	for b.Loop() {
		p := start(b, nil, "demo", "--data", dir, "--listen", "127.0.0.1:0")
		readDemo(b, p, dir)
		b.StopTimer()
		p.stop(b, terminate)
		b.StartTimer()
	}
}

func BenchmarkStartDemoNewFolder(b *testing.B) {
	needPostgres(b)
	for b.Loop() {
		dir := newFolder(b)
		p := start(b, nil, "demo", "--data", dir, "--listen", "127.0.0.1:0")
		readDemo(b, p, dir)
		b.StopTimer()
		p.stop(b, terminate)
		b.StartTimer()
	}
}

func BenchmarkStartServeNewFolder(b *testing.B) {
	needPostgres(b)
	for b.Loop() {
		startServe(b, newFolder(b))
	}
}

func BenchmarkStartServeOldFolder(b *testing.B) {
	needPostgres(b)
	dir := newFolder(b)
	startServe(b, dir)
	for b.Loop() {
		startServe(b, dir)
	}
}

// startServe waits until the server is ready; stopping it is not counted.
func startServe(b *testing.B, dir string) {
	b.Helper()
	address := freeAddress(b)
	p := start(b, shopEnviron(address, "SCAPEROUND_DATA="+dir), "serve")
	for {
		answer, err := http.Get("http://" + address + "/readyz")
		if err == nil {
			answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				break
			}
		}
		time.Sleep(2 * time.Millisecond)
	}
	b.StopTimer()
	p.stop(b, terminate)
	b.StartTimer()
}
