//go:build !js

package visit

import "crypto/sha256"

// Body is a post as it came.
type Body struct {
	Raw    []byte // the form, urlencoded, as received
	SHA256 []byte // of Canonical
}

// BodyOf makes the body of a post's pairs.
func BodyOf(raw []byte, fields []Field) Body {
	sum := sha256.Sum256(Canonical(fields))
	return Body{Raw: raw, SHA256: sum[:]}
}
