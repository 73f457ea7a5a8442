// Package domain holds the sources of the domain's packages, so that the server
// can tell whether the browser build was made from the same.
package domain

import "embed"

// Sources are the Go files of the domain's packages, one folder each.
//
//go:embed */*.go
var Sources embed.FS
