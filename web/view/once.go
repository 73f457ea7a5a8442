package view

import (
	"crypto/rand"
	"encoding/hex"
)

// once is the number of a form, so that a second tap on its button finds what
// the first one made. Each drawing of a form has its own.
func once() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}
