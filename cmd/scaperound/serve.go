package main

import (
	"context"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

	// The zones of shops: a container has no table of its own.
	_ "time/tzdata"

	"github.com/alexedwards/scs/pgxstore"

	"scaperound/domain/fault"
	"scaperound/web"
	"scaperound/web/road"
)

func serveCommand() command {
	return command{
		name:  "serve",
		title: "run the shop's server",
		help: `Without DATABASE_URL it runs a private Postgres in the data folder. The first
start prints an address, good once and for an hour, where the owner's account
is made. SIGINT or SIGTERM end it in order; whatever ends it otherwise, the next
start recovers by itself. "scaperound help config" lists the variables.`,
		run: runServe,
	}
}

func runServe(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	data := flags.String("data", "", "`DIR` of the private database and the link key (SCAPEROUND_DATA)")
	listen := flags.String("listen", "", "`HOST:PORT` to listen on (SCAPEROUND_LISTEN)")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	c, dir, err := e.configAndFolder(*data)
	if err != nil {
		return err
	}
	if *listen != "" {
		if err := checkListen(*listen); err != nil {
			return usage("--listen: %v", err)
		}
		c.listen = *listen
	}
	if c.publicURL == nil {
		var faults fault.Fields
		faults.Add("SCAPEROUND_PUBLIC_URL", fault.Missing, "Links and QR codes are made from it. It takes %s.", settings[0].takes)
		return faults.Err()
	}
	return serve(ctx, e, c, dir)
}

// serve runs the server until ctx ends.
func serve(ctx context.Context, e *env, c *config, dir string) (err error) {
	ready := false
	defer func() { err = e.unlessAsked(ctx, ready, err) }()
	// First, so that a taken port is told before anything is started.
	ln, err := new(net.ListenConfig).Listen(ctx, "tcp", c.listen)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w", c.listen, err)
	}
	defer ln.Close()
	log := c.logger(e)
	db, err := openDatabase(ctx, c, dir, true, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	if err := db.bringUpToDate(ctx, dir, e.stderr); err != nil {
		return err
	}
	handler, err := newHandler(ctx, c, dir, db, log)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "Scaperound %s listens on %s for %s\n", version(), ln.Addr(), c.publicURL)
	if c.publicURL.Scheme != "https" && !isLoopback(c.publicURL.Hostname()) {
		fmt.Fprintln(e.stdout, "This address is not https: work without a signal is off, and what is typed can be read on the way.")
	}
	if lacks := web.BrowserBuild(); lacks != "" {
		log.Warn("work without a signal", "browser build", lacks)
	}
	if err := offerOwnersAccount(ctx, e, c, db); err != nil {
		return err
	}
	ready = true
	return serveUntil(ctx, newHTTPServer(handler, log), ln, c, db, log)
}

// unlessAsked forgives what goes wrong while starting because a signal asked
// for the end: that was done, and in order.
func (e *env) unlessAsked(ctx context.Context, ready bool, err error) error {
	if err == nil || ready || ctx.Err() == nil {
		return err
	}
	fmt.Fprintln(e.stderr, "Stopped before it was ready.")
	return nil
}

func (c *config) logger(e *env) *slog.Logger {
	opts := &slog.HandlerOptions{Level: c.logLevel}
	if c.logJSON {
		return slog.New(slog.NewJSONHandler(e.stderr, opts))
	}
	return slog.New(slog.NewTextHandler(e.stderr, opts))
}

// newHandler puts the pages on the store. life ends when the program is asked to.
func newHandler(life context.Context, c *config, dir string, db *database, log *slog.Logger) (http.Handler, error) {
	key, err := loadLinkKey(c, dir)
	if err != nil {
		return nil, err
	}
	var roads web.Roads
	if c.routing != nil {
		roads = road.New(c.routing)
	}
	return web.New(web.Config{
		Life:           life,
		Roads:          roads,
		Tiles:          c.tiles,
		Public:         c.publicURL,
		Store:          db.DB,
		LinkKey:        key,
		Sessions:       pgxstore.NewWithCleanupInterval(db.Pool(), 0),
		TrustedProxies: c.trusted,
		Log:            log,
	})
}

// sweepEvery is how often sessions that have run out are deleted.
const sweepEvery = time.Hour

// sweep deletes sessions that have run out, now and then, until ctx ends. It
// closes the channel that it returns when it has ended.
func sweep(ctx context.Context, db *database, log *slog.Logger) <-chan struct{} {
	done := make(chan struct{})
	go func() {
		defer close(done)
		tick := time.NewTicker(sweepEvery)
		defer tick.Stop()
		for {
			if err := db.DropExpiredSessions(ctx); err != nil && ctx.Err() == nil {
				log.Warn("old sessions could not be deleted", "err", err)
			}
			select {
			case <-tick.C:
			case <-ctx.Done():
				return
			}
		}
	}()
	return done
}

// offerOwnersAccount prints the address of the first start while nobody owns
// the shop. It goes to standard output alone, never to the log.
func offerOwnersAccount(ctx context.Context, e *env, c *config, db *database) error {
	needed, err := db.NeedsFirstStart(ctx)
	if err != nil || !needed {
		return err
	}
	token, err := db.OfferFirstStart(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "\nNobody has an account yet. The owner makes theirs here, once, within an hour:\n\n  %s\n\n(Too late? Start the server again: it prints a new address.)\n\n",
		c.publicURL.JoinPath(web.FirstStartPath(token)))
	return nil
}
