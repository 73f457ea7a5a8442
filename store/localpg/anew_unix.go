//go:build linux || darwin

package localpg

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"
)

// Anew throws the shop's database away and makes an empty one. It is for the
// demo, which may.
func (s *Server) Anew(ctx context.Context) error {
	admin, err := pgx.Connect(ctx, s.AdminURL())
	if err != nil {
		return fmt.Errorf("connect to the private database for set-up: %w", err)
	}
	defer admin.Close(ctx)
	if _, err := admin.Exec(ctx, fmt.Sprintf(`DROP DATABASE IF EXISTS %s WITH (FORCE)`, Database)); err != nil {
		return fmt.Errorf("throw the old database away: %w", err)
	}
	return makeDatabase(ctx, admin)
}

func makeDatabase(ctx context.Context, admin *pgx.Conn) error {
	if _, err := admin.Exec(ctx, fmt.Sprintf(`CREATE DATABASE %s OWNER %s TEMPLATE template0 ENCODING 'UTF8' LOCALE 'C'`, Database, Role)); err != nil {
		return fmt.Errorf("set up the database: %w", err)
	}
	return nil
}
