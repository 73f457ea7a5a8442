package web

import (
	"context"
	"time"

	"scaperound/domain/fault"
)

// How many photographs are received and printed at once, and how long one waits
// for its turn. A file has at most 12 MiB; printing the largest picture that is
// taken needs some 300 MiB for a moment.
const (
	photosReceived = 6
	photosPrinted  = 2
	photoPatience  = 10 * time.Second
)

// darkroom bounds the work on photographs, so that a flood of them takes
// neither the machine's memory nor its time.
type darkroom struct {
	received, printed chan struct{}
	patience          time.Duration
}

func newDarkroom() *darkroom {
	return &darkroom{received: make(chan struct{}, photosReceived), printed: make(chan struct{}, photosPrinted), patience: photoPatience}
}

func (d *darkroom) place(ctx context.Context, in chan struct{}) (leave func(), err error) {
	t := time.NewTimer(d.patience)
	defer t.Stop()
	select {
	case in <- struct{}{}:
		return func() { <-in }, nil
	case <-t.C:
	case <-ctx.Done():
	}
	return nil, fault.New(fault.Unavailable, "Too many photographs arrive at this moment. Please send it again in a few seconds.")
}
