// Command scaperound looks after planted aquariums for the shop that does:
// the server, the demo, and the commands around them.
//
// Exit status: 0 done, 1 failed, 2 bad usage or input.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	os.Exit(mainStatus())
}

func mainStatus() int {
	ctx, stop := signal.NotifyContext(context.Background(), stopSignals()...)
	defer stop()
	// A second signal ends the program at once: the first one gives the
	// signals back to the system.
	context.AfterFunc(ctx, stop)
	return run(ctx, systemEnv(), os.Args[1:])
}

// stopSignals are those that ask for an orderly stop. A hang-up counts unless
// the program was started to outlive its terminal.
func stopSignals() []os.Signal {
	all := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		all = append(all, syscall.SIGHUP)
	}
	return all
}
