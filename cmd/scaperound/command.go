package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"scaperound/domain/fault"
)

// A command is one word after the program's name. Each has a file of its own.
type command struct {
	name  string
	args  string // what follows the name, as help shows it
	title string // one line, no full stop
	help  string // the paragraphs below the flags; may be empty
	// run gets the command's own arguments. The flag set is empty and carries
	// the command's name; run adds its flags and calls env.parse.
	run func(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error
}

// commands is the whole program, in the order of help.
func commands() []command {
	return []command{
		serveCommand(),
		demoCommand(),
		migrateCommand(),
		userCommand(),
		backupCommand(),
		restoreCommand(),
		readyCommand(),
		calcCommand(),
		assessCommand(),
		forecastCommand(),
		rulesCommand(),
		roundCommand(),
		versionCommand(),
		helpCommand(),
	}
}

// env is what a command may touch of the world outside, so that tests can
// stand in for it.
type env struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	environ        []string // NAME=value
}

func systemEnv() *env {
	return &env{stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, environ: os.Environ()}
}

// get returns a variable's value, and whether it is set at all.
func (e *env) get(name string) (string, bool) {
	for i := len(e.environ) - 1; i >= 0; i-- {
		if v, ok := strings.CutPrefix(e.environ[i], name+"="); ok {
			return v, true
		}
	}
	return "", false
}

// Exit statuses.
const (
	statusOK     = 0
	statusFailed = 1
	statusUsage  = 2
)

// errUsage is bad usage: the sentence goes to the person with a pointer to help.
type errUsage struct{ text string }

func (u *errUsage) Error() string { return u.text }

func usage(format string, args ...any) error {
	return &errUsage{fmt.Sprintf(format, args...)}
}

// errHelp says that help was asked for and has been given.
var errHelp = errors.New("help was shown")

// run finds the command, runs it and turns its error into an exit status.
func run(ctx context.Context, e *env, args []string) int {
	if len(args) == 0 {
		printHelp(e.stderr)
		return statusUsage
	}
	name := args[0]
	switch name {
	case "-h", "-help", "--help":
		name = "help"
	case "-version", "--version":
		name = "version"
	}
	c, ok := findCommand(name)
	if !ok {
		fmt.Fprintf(e.stderr, "scaperound: there is no command %q; \"scaperound help\" lists them\n", args[0])
		return statusUsage
	}
	err := c.run(ctx, e, newFlags(c), args[1:])
	return e.status(c.name, err)
}

func findCommand(name string) (command, bool) {
	for _, c := range commands() {
		if c.name == name {
			return c, true
		}
	}
	return command{}, false
}

// status says what went wrong and returns the exit status for it.
func (e *env) status(name string, err error) int {
	var u *errUsage
	switch {
	case err == nil, errors.Is(err, errHelp):
		return statusOK
	case errors.As(err, &u):
		fmt.Fprintf(e.stderr, "scaperound %s: %s\n", name, u.text)
		return statusUsage
	}
	fmt.Fprintf(e.stderr, "scaperound %s: %s\n", name, plain(err))
	if fault.Is(err, fault.Invalid) || fault.Is(err, fault.Malformed) {
		return statusUsage
	}
	return statusFailed
}

// plain is an error as the person at the terminal reads it. Unlike a page, the
// terminal also gets the inner error: whoever runs the program owns its logs.
func plain(err error) string {
	var f *fault.Error
	if !errors.As(err, &f) {
		return err.Error()
	}
	var parts []string
	if f.Msg != "" {
		parts = append(parts, f.Msg)
	}
	for _, field := range f.Fields {
		parts = append(parts, field.Name+": "+field.Text)
	}
	if f.Err != nil {
		parts = append(parts, "("+f.Err.Error()+")")
	}
	if len(parts) == 0 {
		return err.Error()
	}
	return strings.Join(parts, " ")
}

func newFlags(c command) *flag.FlagSet {
	fs := flag.NewFlagSet(c.name, flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	return fs
}

// parse reads flags that may stand before, between or after the other
// arguments, and returns those others: at least least, at most most of them.
func (e *env) parse(fs *flag.FlagSet, args []string, least, most int) ([]string, error) {
	var rest []string
	for {
		if err := fs.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				c, _ := findCommand(fs.Name())
				printCommandHelp(e.stdout, c, fs)
				return nil, errHelp
			}
			return nil, usage("%v; \"scaperound help %s\" shows what it takes", err, fs.Name())
		}
		left := fs.Args()
		if len(left) == 0 {
			break
		}
		// After "--" nothing is a flag any more.
		if n := len(args) - len(left); n > 0 && args[n-1] == "--" {
			rest = append(rest, left...)
			break
		}
		rest = append(rest, left[0])
		args = left[1:]
	}
	switch {
	case len(rest) < least:
		return nil, usage("something is missing; \"scaperound help %s\" shows what it takes", fs.Name())
	case len(rest) > most:
		return nil, usage("%q is one too many; \"scaperound help %s\" shows what it takes", rest[most], fs.Name())
	}
	return rest, nil
}
