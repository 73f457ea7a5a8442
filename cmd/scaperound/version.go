package main

import (
	"context"
	"flag"
	"fmt"
	"runtime"
	"runtime/debug"
)

func versionCommand() command {
	return command{name: "version", title: "which build this is", run: runVersion}
}

func runVersion(_ context.Context, e *env, flags *flag.FlagSet, args []string) error {
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "scaperound %s (%s, %s/%s)\n", version(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return nil
}

// release is set by the release build (-ldflags "-X main.release=1.2.3").
var release string

// version is the release, else the commit that the binary was built from, else
// "unversioned".
func version() string {
	if release != "" {
		return release
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unversioned"
	}
	var commit, changed string
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			commit = s.Value
		case "vcs.modified":
			if s.Value == "true" {
				changed = ", changed"
			}
		}
	}
	if commit == "" {
		return "unversioned"
	}
	return fmt.Sprintf("commit %.12s%s", commit, changed)
}
