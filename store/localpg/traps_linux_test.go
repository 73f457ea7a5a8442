package localpg

import (
	"context"
	"os"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// onDoomedThread runs fn on a thread that ends with it. The process's first
// thread never ends, so it is kept busy where we happen to get it.
func onDoomedThread(t *testing.T, fn func()) {
	t.Helper()
	done := make(chan struct{})
	release := make(chan struct{})
	t.Cleanup(func() { close(release) })
	var try func()
	try = func() {
		runtime.LockOSThread() // never unlocked: the thread ends with the goroutine
		if syscall.Gettid() == os.Getpid() {
			go try()
			<-release
			return
		}
		defer close(done)
		fn()
	}
	go try()
	<-done
}

// The kernel watches the thread that started the child, not the process.
func TestServerOutlivesTheThreadOfItsCaller(t *testing.T) {
	t.Parallel()
	need(t)
	data := oldFolder(t)
	var s *Server
	var err error
	onDoomedThread(t, func() { s, err = Start(context.Background(), Options{Data: data}) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stop(t, s) })
	pid := s.serverPid()
	conn := connect(t, s.URL())
	time.Sleep(300 * time.Millisecond)
	if got := ask(t, conn, `SELECT 'here'`); got != "here" || s.serverPid() != pid {
		t.Error("the server ended with the thread")
	}
}

func TestServerEndsWithAKilledProgram(t *testing.T) {
	t.Parallel()
	need(t)
	data := oldFolder(t)
	p := run(t, data)
	<-p.writing
	p.kill()
	for start := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		left, err := processesIn(files{data: data}.pgdata())
		if err != nil {
			t.Fatal(err)
		}
		if len(left) == 0 {
			return
		}
		if time.Since(start) > 10*time.Second {
			t.Fatalf("processes %v outlive the program", left)
		}
	}
}
