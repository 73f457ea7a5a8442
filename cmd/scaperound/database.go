package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"scaperound/store"
	"scaperound/store/localpg"
)

// database is the shop's database as a command uses it: one of the shop's own
// choosing, or the private one, which ends with the command.
type database struct {
	*store.DB
	url     string
	private *localpg.Server // nil where it is not ours to end
}

// openDatabase opens DATABASE_URL, else the private database of the folder. The
// steps that take time are told to progress. A private database that a server
// runs already is used beside it, unless alone is set.
func openDatabase(ctx context.Context, c *config, dir string, alone bool, progress io.Writer) (*database, error) {
	d := &database{url: c.databaseURL}
	if d.url == "" && !alone {
		d.url, _ = localpg.Running(dir)
	}
	if d.url == "" {
		if err := makeFolder(dir); err != nil {
			return nil, err
		}
		server, err := localpg.Start(ctx, localpg.Options{Data: dir, Log: progress})
		if err != nil {
			return nil, err
		}
		d.private, d.url = server, server.URL()
	}
	db, err := store.Open(ctx, d.url)
	if err != nil {
		d.close()
		return nil, err
	}
	d.DB = db
	return d, nil
}

// close ends the connections, then the private database in order.
func (d *database) close() {
	if d.DB != nil {
		d.DB.Close()
	}
	if d.private != nil {
		// A signal has ended the command's context by now; the stop has its
		// own patience.
		_ = d.private.Stop(context.Background())
	}
}

// ended is closed when the private database ends without having been asked. It
// is nil, and never closed, for a database that is not ours.
func (d *database) ended() <-chan struct{} {
	if d.private == nil {
		return nil
	}
	return d.private.Done()
}

func (d *database) why() error {
	if err := d.private.Err(); err != nil {
		return fmt.Errorf("the private database ended: %w", err)
	}
	return fmt.Errorf("the private database ended")
}

// bringUpToDate migrates a private database, after a backup where there is
// anything to lose. A database of the shop's own is only checked: there the
// migration is a step that somebody takes on purpose.
func (d *database) bringUpToDate(ctx context.Context, dir string, progress io.Writer) error {
	if d.private == nil {
		return d.CheckSchema(ctx)
	}
	schema, err := d.Schema(ctx)
	if err != nil {
		return err
	}
	if len(schema.Unknown) > 0 || schema.Unfinished {
		return schema.Err()
	}
	if len(schema.Pending) == 0 {
		return nil
	}
	if schema.At > 0 {
		if err := d.backupBefore(ctx, dir, schema.At, progress); err != nil {
			return fmt.Errorf("the database must be brought up to date, and the backup before that failed, so nothing was changed: %w", err)
		}
	}
	_, err = d.Migrate(ctx)
	return err
}

// backupBefore keeps what a migration is about to change, in a file named by
// where the database stands and by the moment.
func (d *database) backupBefore(ctx context.Context, dir string, at int64, progress io.Writer) error {
	folder := filepath.Join(dir, "backups")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	path := filepath.Join(folder, fmt.Sprintf("before-migration-%s-at-%d.backup", d.Now().Format("20060102-150405"), at))
	if _, err := d.BackupFile(ctx, path, nil); err != nil {
		return err
	}
	fmt.Fprintf(progress, "The database is brought up to date; as it was before, it is in %s\n", path)
	return nil
}

// somethingThere refuses to make a new private database for a command that
// would find nothing in it.
func somethingThere(c *config, dir string) error {
	if c.databaseURL != "" {
		return nil
	}
	if _, err := os.Stat(dir); err != nil {
		return fmt.Errorf("there is no data folder %s; name it with --data", dir)
	}
	return nil
}

// keyPlace says where the link key is kept.
func keyPlace(c *config, dir string) string {
	if c.linkKey != "" {
		return "SCAPEROUND_LINK_KEY holds it"
	}
	return filepath.Join(dir, linkKeyFile)
}
