package store

import (
	"crypto/rand"
	"encoding/hex"
	"time"
)

// NewID makes a key: a UUID of version 7 (RFC 9562), whose first 48 bits are
// the milliseconds since 1970, so that new rows land side by side in an index.
func NewID() string { return newIDAt(time.Now()) }

func newIDAt(now time.Time) string {
	var b [16]byte
	// crypto/rand.Read never fails: it ends the program where it cannot read.
	_, _ = rand.Read(b[6:])
	ms := uint64(now.UnixMilli())
	for i := range 6 {
		b[i] = byte(ms >> (40 - 8*i))
	}
	b[6] = b[6]&0x0f | 0x70
	b[8] = b[8]&0x3f | 0x80
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

// ValidID reports whether the text has the form of a key, so that an address
// somebody made up is "not found" and never an error of the database.
func ValidID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i, c := range s {
		switch i {
		case 8, 13, 18, 23:
			if c != '-' {
				return false
			}
		default:
			if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
				return false
			}
		}
	}
	return true
}
