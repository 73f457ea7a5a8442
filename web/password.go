package web

import (
	"context"
	"crypto/rand"
	"runtime"
	"strings"
	"time"

	"github.com/alexedwards/argon2id"

	"scaperound/domain/fault"
)

// One hash takes 19 MiB and some 20 ms: the second of the settings that the
// OWASP password storage sheet gives for argon2id.
var hashParams = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// HashPassword hashes a new password, for the commands that make people without
// the web. It checks nothing else about it.
func HashPassword(password string) (string, error) {
	return argon2id.CreateHash(password, hashParams)
}

// How long somebody waits for a free place before they are told to come back.
const hashPatience = 2 * time.Second

// hasher bounds how many passwords are hashed at once, so that a flood of
// sign-ins cannot take the machine's memory.
type hasher struct {
	places   chan struct{}
	patience time.Duration
	nobodys  string // the hash that is compared where there is no such person
}

func newHasher() *hasher {
	// A random password that nobody has: what matters is the time it takes.
	decoy, err := HashPassword(rand.Text())
	if err != nil {
		panic("web: no randomness: " + err.Error())
	}
	return &hasher{places: make(chan struct{}, max(2, runtime.GOMAXPROCS(0))), patience: hashPatience, nobodys: decoy}
}

func (h *hasher) place(ctx context.Context) (release func(), err error) {
	t := time.NewTimer(h.patience)
	defer t.Stop()
	select {
	case h.places <- struct{}{}:
		return func() { <-h.places }, nil
	case <-t.C:
	case <-ctx.Done():
	}
	return nil, fault.New(fault.Unavailable, "Too many people are signing in at this moment. Please try again in a few seconds.")
}

func (h *hasher) hash(ctx context.Context, password string) (string, error) {
	release, err := h.place(ctx)
	if err != nil {
		return "", err
	}
	defer release()
	hash, err := HashPassword(password)
	if err != nil {
		return "", &fault.Error{Kind: fault.Internal, Err: err}
	}
	return hash, nil
}

// matches compares a password with a hash. An empty hash is that of nobody: it
// takes as long and never matches.
func (h *hasher) matches(ctx context.Context, password, hash string) (bool, error) {
	release, err := h.place(ctx)
	if err != nil {
		return false, err
	}
	defer release()
	known := strings.HasPrefix(hash, "$argon2id$")
	if !known {
		hash = h.nobodys
	}
	ok, err := argon2id.ComparePasswordAndHash(password, hash)
	if err != nil {
		return false, &fault.Error{Kind: fault.Internal, Err: err}
	}
	return ok && known, nil
}
