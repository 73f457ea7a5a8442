package main

import "testing"

// What runs all the time where nothing is traced is not taken for a part of it.
func TestNeverIsWhatItSays(t *testing.T) {
	for name, want := range map[string]bool{
		"runtime.traceLocker.GoPark": true, "runtime.traceLocker.eventWriter": true, "runtime.traceLocker.stack": true, "runtime.traceAdvance.func1.1": true, "runtime.(*traceMap).put": true,
		"runtime.(*profBuf).read": true, "runtime.initMetrics.func12": true, "runtime.initMetrics": true, "runtime.schedtrace.func1": true,
		"runtime.traceLocker.ok": false, "runtime.traceAcquire": false, "runtime.traceRelease": false, "runtime.traceEnabled": false, "runtime.traceLockInit": false, "runtime.traceReader": false,
		"runtime.traceback2": false, "runtime.tracebackPCs": false, "runtime.mallocgc": false, "runtime.gcStart": false, "runtime.printpanics": false, "scaperound/domain/care.schedtrace": false,
	} {
		if got := never.MatchString(name); got != want {
			t.Errorf("%s: %t", name, got)
		}
	}
}
