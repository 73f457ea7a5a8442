package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/netip"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"scaperound/cmd/scaperound/demoshop"
	"scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/store/localpg"
	"scaperound/web"
)

func demoCommand() command {
	return command{
		name:  "demo",
		title: "run a made-up shop to look at",
		help: `Makes a private database, fills it with an invented shop, prints the address and
the sign-ins, and serves. Each start makes the shop anew; --keep goes on with the
last one. When it is ready, DIR/demo.json says where it is. The demo never uses
DATABASE_URL and reads no variable but SCAPEROUND_LOG and SCAPEROUND_POSTGRES_BIN.`,
		run: runDemo,
	}
}

// demoFlags is what the demo was asked for.
type demoFlags struct {
	listen string // empty: the usual address, else any free port
	seed   uint64
	today  quantity.Date
	keep   bool
}

func runDemo(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	var f demoFlags
	data := flags.String("data", "", "`DIR` for the made-up shop")
	flags.StringVar(&f.listen, "listen", "", "`HOST:PORT` to listen on (default "+defaultListen+", or any free port where that is taken)")
	flags.Uint64Var(&f.seed, "seed", 1, "`N`: another number makes another shop (default 1)")
	today := flags.String("today", "", "`DATE` to date everything from, such as 2026-11-24 (default today)")
	flags.BoolVar(&f.keep, "keep", false, "go on with the shop of the last time")
	flags.Bool("yes", false, "ask nothing (the demo itself never does)")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	if f.listen != "" {
		if err := checkListen(f.listen); err != nil {
			return usage("--listen: %v", err)
		}
	}
	zone, err := time.LoadLocation(demoshop.Settings().Zone)
	if err != nil {
		return err
	}
	f.today = quantity.DateOf(time.Now().In(zone))
	if *today != "" {
		day, ok := quantity.ParseDate(*today)
		if !ok {
			return usage("--today: %q is not a date such as 2026-11-24", *today)
		}
		f.today = day
	}
	dir, err := dataFolder(e, *data, "", demoFolder)
	if err != nil {
		return err
	}
	return demo(ctx, e, dir, f)
}

func demo(ctx context.Context, e *env, dir string, f demoFlags) (err error) {
	begun := time.Now()
	isReady := false
	defer func() { err = e.unlessAsked(ctx, isReady, err) }()
	c, err := readConfig(e.only("SCAPEROUND_LOG", "SCAPEROUND_POSTGRES_BIN"))
	if err != nil {
		return err
	}
	if _, set := e.get("SCAPEROUND_LOG"); !set {
		c.logLevel = slog.LevelWarn // warnings: the screen is for the sign-ins
	}
	ln, err := listenForDemo(ctx, f.listen)
	if err != nil {
		return err
	}
	defer ln.Close()
	c.publicURL = &url.URL{Scheme: "http", Host: browsable(ln.Addr())}
	if err := claimDemoFolder(dir); err != nil {
		return err
	}
	ready := filepath.Join(dir, demoReady)
	// What a killed demo left goes at once: somebody may wait for the new one.
	if _, busy := localpg.Running(dir); !busy {
		if err := removeIfThere(ready); err != nil {
			return err
		}
	}
	db, err := openDatabase(ctx, c, dir, true, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	made, err := makeDemoShop(ctx, e, c, dir, db, f)
	if err != nil {
		return err
	}
	log := c.logger(e)
	handler, err := newHandler(ctx, c, dir, db, log)
	if err != nil {
		return err
	}
	out := describe(c, db, made)
	printDemo(e.stdout, out, made, time.Since(begun))
	if err := writeJSON(ready, out); err != nil {
		return err
	}
	defer removeIfThere(ready)
	isReady = true
	return serveUntil(ctx, newHTTPServer(handler, log), ln, c, db, log)
}

// only is the environment with the named variables alone.
func (e *env) only(names ...string) *env {
	out := *e
	out.environ = nil
	for _, name := range names {
		if v, ok := e.get(name); ok {
			out.environ = append(out.environ, name+"="+v)
		}
	}
	return &out
}

func listenForDemo(ctx context.Context, address string) (net.Listener, error) {
	lc := new(net.ListenConfig)
	if address == "" {
		if ln, err := lc.Listen(ctx, "tcp", defaultListen); err == nil {
			return ln, nil
		}
		address = "127.0.0.1:0"
	}
	ln, err := lc.Listen(ctx, "tcp", address)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s: %w", address, err)
	}
	return ln, nil
}

// browsable is the host and port to type for an address that is listened on. For
// all addresses of the machine it is one that a tablet in the same house
// reaches, where there is one.
func browsable(addr net.Addr) string {
	ap, err := netip.ParseAddrPort(addr.String())
	if err != nil || !ap.Addr().IsUnspecified() {
		return addr.String()
	}
	own, _ := net.InterfaceAddrs()
	for _, a := range own {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
			return net.JoinHostPort(n.IP.String(), fmt.Sprint(ap.Port()))
		}
	}
	return net.JoinHostPort("127.0.0.1", fmt.Sprint(ap.Port()))
}

// makeDemoShop fills the database, or with --keep leaves it as it is.
func makeDemoShop(ctx context.Context, e *env, c *config, dir string, db *database, f demoFlags) (madeUp, error) {
	kept := readMark(dir)
	if f.keep && kept.Loaded {
		return kept, db.bringUpToDate(ctx, dir, e.stderr)
	}
	if f.keep {
		fmt.Fprintln(e.stderr, "There is no finished demo to keep; making a new one.")
	}
	if err := writeMark(dir, madeUp{}); err != nil {
		return madeUp{}, err
	}
	db.DB.Close()
	if err := db.private.Anew(ctx); err != nil {
		return madeUp{}, err
	}
	fresh, err := store.Open(ctx, db.url)
	if err != nil {
		return madeUp{}, err
	}
	db.DB = fresh
	if err := db.bringUpToDate(ctx, dir, e.stderr); err != nil {
		return madeUp{}, err
	}
	m := madeUp{Seed: f.seed, Today: f.today.String()}
	people, err := hireDemoStaff(ctx, db, &m)
	if err != nil {
		return madeUp{}, err
	}
	key, err := loadLinkKey(c, dir)
	if err != nil {
		return madeUp{}, err
	}
	m.Shop, err = demoshop.Load(ctx, db.DB, demoshop.Request{Seed: f.seed, Today: f.today, Staff: people, LinkKey: key})
	if err != nil {
		return madeUp{}, fmt.Errorf("fill the made-up shop: %w", err)
	}
	m.Loaded = true
	return m, writeMark(dir, m)
}

// hireDemoStaff makes the shop's record and its people, each with a password of
// this demo's own.
func hireDemoStaff(ctx context.Context, db *database, m *madeUp) ([]staff.Person, error) {
	var people []staff.Person
	err := db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		if err := tx.MakeShop(ctx, demoshop.Settings()); err != nil {
			return err
		}
		for _, draft := range demoshop.People() {
			password, err := easyPassword()
			if err != nil {
				return err
			}
			hash, err := web.HashPassword(password)
			if err != nil {
				return err
			}
			person, err := tx.AddPerson(ctx, "", draft, hash)
			if err != nil {
				return err
			}
			people = append(people, person)
			m.Staff = append(m.Staff, signIn{Email: draft.Email, Password: password})
		}
		return nil
	})
	return people, err
}

// describe is what other programs are told.
func describe(c *config, db *database, m madeUp) running {
	r := running{
		URL: c.publicURL.String(), PID: os.Getpid(), DatabaseURL: db.url,
		Owner: m.Staff[0], Technicians: m.Staff[1:],
		Tank: m.Shop.Tank, Tank2: m.Shop.Tank2, Tank2Name: m.Shop.Tank2Name,
	}
	if m.Shop.Link != "" {
		r.Link = r.URL + m.Shop.Link
	}
	if m.Shop.Print != "" {
		r.PrintURL = r.URL + m.Shop.Print
	}
	return r
}

func printDemo(w io.Writer, r running, m madeUp, took time.Duration) {
	var b strings.Builder
	fmt.Fprintf(&b, "\nThe demo is ready (%.1f s). The shop, its people and its tanks are made up.\n\n  %s\n\n", took.Seconds(), r.URL)
	for i, draft := range demoshop.People() {
		fmt.Fprintf(&b, "  %-11s %-28s %s\n", draft.Role, m.Staff[i].Email, m.Staff[i].Password)
	}
	if r.Link != "" {
		fmt.Fprintf(&b, "\n  A customer's care sheet, to open without signing in:\n  %s\n", r.Link)
	}
	fmt.Fprint(&b, "\nCtrl-C ends it. The next demo makes the shop anew; --keep goes on with this one.\n\n")
	io.WriteString(w, b.String())
}
