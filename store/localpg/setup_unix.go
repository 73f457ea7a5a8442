//go:build linux || darwin

package localpg

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// initdb makes the database folder under another name and renames it when all
// of it is on the disk: a half-made one has PG_VERSION too, and proves nothing.
func (s *Server) initdb(ctx context.Context) error {
	halves, err := filepath.Glob(globQuote(s.files.pgdata()) + ".new-*")
	if err != nil {
		return err
	}
	for _, half := range halves {
		// One that a dying initdb still writes to is removed next time.
		_ = os.RemoveAll(half)
	}
	s.logf("Making a new database with Postgres %d in %s.", s.bin.Major, s.files.pgdata())
	fresh := s.files.pgdata() + ".new-" + rand.Text()[:8]
	args := []string{"-D", fresh, "-k", "-E", "UTF8", "--locale=C", "-U", adminRole}
	cmd := exec.CommandContext(ctx, s.bin.Initdb())
	if s.opts.Throwaway {
		args = append(args, "-A", "trust", "-N")
	} else {
		r, err := s.passwordPipe()
		if err != nil {
			return err
		}
		defer r.Close()
		cmd.ExtraFiles = []*os.File{r}
		args = append(args, "-A", "scram-sha-256", "--pwfile=/dev/fd/3")
	}
	cmd.Args = append(cmd.Args, args...)
	cmd.Dir, cmd.Env = s.files.server(), serverEnv()
	cmd.SysProcAttr = initAttr(s.files.account)
	var said strings.Builder
	cmd.Stdout, cmd.Stderr = &said, &said
	c, err := startChild(cmd)
	if err != nil {
		return fmt.Errorf("make the database: %w", err)
	}
	<-c.done
	if c.err != nil {
		return fmt.Errorf("make the database: %w\n%s", c.err, strings.TrimSpace(said.String()))
	}
	return renameFor(fresh, s.files.pgdata())
}

// passwordPipe returns the reading end of a pipe that holds the superuser's
// password, so that it never is in a file or on a command line.
func (s *Server) passwordPipe() (*os.File, error) {
	r, w, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	// initdb opens it anew by its /dev/fd name, which asks who owns it.
	if s.files.account.Other {
		if err := r.Chown(s.files.account.UID, s.files.account.GID); err != nil {
			return nil, errors.Join(err, r.Close(), w.Close())
		}
	}
	_, err = w.WriteString(s.pass.admin + "\n") // fits the pipe; never blocks
	if err := errors.Join(err, w.Close()); err != nil {
		return nil, errors.Join(err, r.Close())
	}
	return r, nil
}

// ensureDatabase makes the ordinary role and its database where they are
// missing. Every step may have been cut short by a kill in an earlier run.
func (s *Server) ensureDatabase(ctx context.Context) error {
	if conn, err := pgx.Connect(ctx, s.URL()); err == nil {
		return conn.Close(ctx)
	} else if !isRefusal(err) {
		return fmt.Errorf("connect to the private database: %w", err)
	}
	admin, err := pgx.Connect(ctx, s.AdminURL())
	if err != nil {
		if isRefusal(err) {
			err = errors.Join(errPassword, err)
		}
		return fmt.Errorf("connect to the private database for set-up: %w", err)
	}
	defer admin.Close(ctx)
	var role, database bool
	if err := admin.QueryRow(ctx, `SELECT
		EXISTS (SELECT FROM pg_roles WHERE rolname = $1),
		EXISTS (SELECT FROM pg_database WHERE datname = $2)`, Role, Database).Scan(&role, &database); err != nil {
		return err
	}
	verb := "CREATE"
	if role {
		verb = "ALTER"
	}
	// The password is of letters and digits, see rand.Text.
	if _, err := admin.Exec(ctx, fmt.Sprintf(`%s ROLE %s LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION NOBYPASSRLS PASSWORD '%s'`, verb, Role, s.pass.role)); err != nil {
		return fmt.Errorf("set up the role: %w", err)
	}
	if !database {
		return makeDatabase(ctx, admin)
	}
	return nil
}

// errPassword is in the chain where the superuser's password is not the file's.
var errPassword = errors.New("the database knows another password")

// resetPasswords teaches an existing cluster new passwords after the file with
// the old ones was lost. The server asks for none meanwhile; the socket's
// folder alone guards it.
func (s *Server) resetPasswords(ctx context.Context) error {
	s.logf("The database does not know the passwords in %s; setting them anew.", s.files.passwords())
	// Not in the server's own folder: root must not write where another account
	// could have put a link.
	hba := filepath.Join(s.files.data, "postgres-open-hba.conf")
	if err := writeFile(hba, "local all all trust\n"); err != nil {
		return err
	}
	defer os.Remove(hba)
	if err := s.files.account.Own(hba); err != nil {
		return err
	}
	if err := s.launch(ctx, "-c", "hba_file="+hba); err != nil {
		return err
	}
	admin, err := pgx.Connect(ctx, s.AdminURL())
	if err == nil {
		_, err = admin.Exec(ctx, fmt.Sprintf(`ALTER ROLE %s PASSWORD '%s'`, adminRole, s.pass.admin))
		err = errors.Join(err, admin.Close(ctx))
	}
	s.child.end(stopGrace)
	return err
}

// isRefusal reports whether the server answered, and said no.
func isRefusal(err error) bool {
	var pg *pgconn.PgError
	if !errors.As(err, &pg) {
		return false
	}
	return strings.HasPrefix(pg.Code, "28") || pg.Code == "3D000"
}
