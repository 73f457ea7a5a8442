package view

import (
	"crypto/rand"
	"encoding/hex"
)

// once is the number of a form that makes something, so that a second tap finds
// what the first made. One that is drawn again keeps its number.
func (f Form) once() string {
	if id := f.Values.Get("once"); id != "" {
		return id
	}
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}
