//go:build libraries

// This file keeps the versions of the libraries that the house was designed
// with, so that tidying go.mod before a library's first use does not drop its
// line. It is never built.
package main

import (
	_ "github.com/a-h/templ"
	_ "github.com/alexedwards/argon2id"
	_ "github.com/alexedwards/scs/pgxstore"
	_ "github.com/alexedwards/scs/v2"
	_ "github.com/chromedp/chromedp"
	_ "github.com/go-chi/chi/v5"
	_ "github.com/go-chi/httprate"
	_ "github.com/jackc/pgx/v5/pgxpool"
	_ "github.com/pressly/goose/v3"
	_ "golang.org/x/sys/unix"
	_ "golang.org/x/term"
	_ "golang.org/x/text/collate"
	_ "gonum.org/v1/gonum/optimize/convex/lp"
	_ "rsc.io/qr"
)
