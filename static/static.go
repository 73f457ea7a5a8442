// Package static carries the style sheet, the scripts and the icons, and serves
// them under names that change with their content, so that a browser may keep
// them for good.
package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
)

//go:embed *
var embedded embed.FS

// Prefix is where Handler expects to be mounted.
const Prefix = "/static/"

type file struct {
	name     string // as in the folder: app.css
	mime     string
	tag      string // the start of the content's hash
	plain    []byte
	gzipped  []byte // nil where it does not pay; from a sibling NAME.gz where there is one
	brotlied []byte // from a sibling NAME.br, where the build made one
}

var mimes = map[string]string{
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".ico":         "image/x-icon",
	".wasm":        "application/wasm",
	".webmanifest": "application/manifest+json",
}

// bundles are files that browsers get as one, in this order.
var bundles = map[string][]string{
	"house.css": {"app.css", "form.css", "parts.css", "records.css", "tank.css"},
}

var files = load()

func load() map[string]*file {
	out := map[string]*file{}
	entries, err := fs.ReadDir(embedded, ".")
	if err != nil {
		panic(fmt.Sprintf("static: the embedded folder cannot be read: %v", err))
	}
	for _, e := range entries {
		mime, served := mimes[path.Ext(e.Name())]
		if e.IsDir() || !served {
			continue
		}
		out[e.Name()] = newFile(e.Name(), mime, mustRead(e.Name()))
		if br, err := embedded.ReadFile(e.Name() + ".br"); err == nil {
			out[e.Name()].brotlied = br
		}
	}
	for name, parts := range bundles {
		var all []byte
		for _, part := range parts {
			all = append(all, mustRead(part)...)
		}
		out[name] = newFile(name, mimes[path.Ext(name)], all)
	}
	return out
}

func mustRead(name string) []byte {
	b, err := embedded.ReadFile(name)
	if err != nil {
		panic(fmt.Sprintf("static: %s cannot be read: %v", name, err))
	}
	return b
}

func newFile(name, mime string, plain []byte) *file {
	sum := sha256.Sum256(plain)
	f := &file{name: name, mime: mime, tag: hex.EncodeToString(sum[:8]), plain: plain}
	if gz, err := embedded.ReadFile(name + ".gz"); err == nil {
		f.gzipped = gz
		return f
	}
	if gz := compress(plain); len(gz) < len(plain)*9/10 {
		f.gzipped = gz
	}
	return f
}

func compress(plain []byte) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return plain
	}
	// Writing to memory does not fail.
	_, _ = w.Write(plain)
	_ = w.Close()
	return b.Bytes()
}

// Path is the address of the named file, with its content's hash in it:
// Path("app.css") is /static/app.1f0c….css. A name that does not exist is a
// mistake in the program and comes back without a hash, which answers 404.
func Path(name string) string {
	f, ok := files[name]
	if !ok {
		return Prefix + name
	}
	ext := path.Ext(name)
	return Prefix + strings.TrimSuffix(name, ext) + "." + f.tag + ext
}

// Sum changes whenever any file does.
func Sum() string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		sum.Write([]byte(Path(name)))
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// Has reports whether the named file is part of this build. The browser build
// of the domain is made apart and may be missing.
func Has(name string) bool { _, ok := files[name]; return ok }

// Handler answers GET and HEAD below Prefix, for the hashed names (to be kept
// for a year) and the plain ones (to be asked about each time).
func Handler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		f, hashed := find(strings.TrimPrefix(r.URL.Path, Prefix))
		if f == nil {
			w.Header().Set("Cache-Control", "no-store")
			http.Error(w, "There is no such file.", http.StatusNotFound)
			return
		}
		serve(w, r, f, hashed)
	})
}

func find(name string) (f *file, hashed bool) {
	if f, ok := files[name]; ok {
		return f, false
	}
	ext := path.Ext(name)
	stem := strings.TrimSuffix(name, ext)
	dot := strings.LastIndexByte(stem, '.')
	if dot < 0 {
		return nil, false
	}
	f, ok := files[stem[:dot]+ext]
	if !ok || f.tag != stem[dot+1:] {
		return nil, false
	}
	return f, true
}

func serve(w http.ResponseWriter, r *http.Request, f *file, hashed bool) {
	h := w.Header()
	h.Set("Content-Type", f.mime)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	if hashed {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	body, encoding := f.plain, ""
	switch {
	case f.brotlied != nil && accepts(r, "br"):
		body, encoding = f.brotlied, "br"
	case f.gzipped != nil && accepts(r, "gzip"):
		body, encoding = f.gzipped, "gzip"
	}
	if encoding != "" {
		h.Set("Content-Encoding", encoding)
	}
	tag := `"` + f.tag + encoding + `"`
	h.Set("ETag", tag)
	if strings.Contains(r.Header.Get("If-None-Match"), tag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method == http.MethodHead {
		return
	}
	_, _ = w.Write(body)
}

func accepts(r *http.Request, encoding string) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept-Encoding"), ",") {
		name, q, _ := strings.Cut(part, ";")
		if strings.TrimSpace(name) == encoding {
			q = strings.ReplaceAll(q, " ", "")
			return q != "q=0" && !strings.HasPrefix(q, "q=0.000")
		}
	}
	return false
}
