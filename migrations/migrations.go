// Package migrations carries the database's schema as numbered SQL files. A
// file that has been in a release is never edited; a change is a new file.
package migrations

import "embed"

// FS holds the SQL files, named YEARMONTHDAYHOURMINUTESECOND_what.sql.
//
//go:embed *.sql
var FS embed.FS
