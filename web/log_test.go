package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"time"
)

// A request whose asker went away is no fault to look into; one that failed, or
// was stopped by us, is.
func TestAnAskerWhoIsGoneIsNoError(t *testing.T) {
	here := context.Background()
	left, leave := context.WithCancel(here)
	leave()
	stopped := fmt.Errorf("this took too long: %w", context.Canceled)
	for _, c := range []struct {
		ctx   context.Context
		err   error
		level string
	}{
		{left, stopped, "INFO"},
		{here, stopped, "ERROR"},
		{left, errors.New("a wrong row"), "ERROR"},
		{here, errors.New("a wrong row"), "ERROR"},
	} {
		var out bytes.Buffer
		s := &shell{log: slog.New(slog.NewTextHandler(&out, nil))}
		s.logLine(c.ctx, get, &notes{id: "abcd-efgh", route: "/tanks/{tank}", status: 503, err: c.err}, time.Second)
		if got := out.String(); !strings.Contains(got, "level="+c.level) || strings.Contains(got, "gone=true") != (c.level == "INFO") {
			t.Errorf("%v, asker gone %v: %s", c.err, c.ctx.Err() != nil, got)
		}
	}
}
