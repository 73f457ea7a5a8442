//go:build linux || darwin

package localpg

import (
	"context"
	"os"
	"syscall"
	"testing"
	"time"
)

// A first start: initdb, the server, the role and the database.
func BenchmarkColdStart(b *testing.B) {
	need(b)
	for b.Loop() {
		b.StopTimer()
		data := dataFolder(b)
		b.StartTimer()
		s, err := Start(context.Background(), Options{Data: data})
		b.StopTimer()
		if err != nil {
			b.Fatal(err)
		}
		stop(b, s)
		os.RemoveAll(data)
		b.StartTimer()
	}
}

// A start on a database that was stopped in order.
func BenchmarkWarmStart(b *testing.B) {
	need(b)
	data := dataFolder(b)
	stop(b, start(b, data))
	for b.Loop() {
		s, err := Start(context.Background(), Options{Data: data})
		b.StopTimer()
		if err != nil {
			b.Fatal(err)
		}
		stop(b, s)
		b.StartTimer()
	}
}

// A start after the server was killed, which replays the log.
func BenchmarkStartAfterKill(b *testing.B) {
	need(b)
	data := dataFolder(b)
	stop(b, start(b, data))
	for b.Loop() {
		s, err := Start(context.Background(), Options{Data: data})
		b.StopTimer()
		if err != nil {
			b.Fatal(err)
		}
		s.mu.Lock()
		s.stopping = true // or it would be started again
		s.mu.Unlock()
		_ = syscall.Kill(s.child.pid(), syscall.SIGKILL)
		<-s.Done()
		s.lock.Close()
		time.Sleep(20 * time.Millisecond) // its helpers leave
		b.StartTimer()
	}
}
