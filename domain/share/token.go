// Package share is about what leaves the house: links to care sheets, and the
// sheets as they were given.
package share

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"strings"
)

// KeySize is the size of a Key in bytes.
const KeySize = 32

// Key signs links. It lies in a file of its own, so that a copy of the
// database alone opens no sheet.
type Key [KeySize]byte

const (
	idSize  = 16 // bytes of a UUID
	macSize = 16 // of the HMAC's 32; 128 bits cannot be guessed
)

// Token is the secret part of a link's address: the link's id and an HMAC of
// the id and its generation, so that the same link can be printed again, and a
// new generation ends every older one. It returns an empty text for an id that
// is no UUID.
func (k Key) Token(link string, generation int) string {
	id, ok := readID(link)
	if !ok {
		return ""
	}
	mac := k.sum(id, generation)
	return base64.RawURLEncoding.EncodeToString(append(id[:], mac[:]...))
}

// LinkOf reads the link's id from a token. It says nothing about whether the
// token is genuine: that needs the link's generation and Fits.
func LinkOf(token string) (link string, ok bool) {
	b, err := base64.RawURLEncoding.DecodeString(token)
	if err != nil || len(b) != idSize+macSize {
		return "", false
	}
	h := hex.EncodeToString(b[:idSize])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:], true
}

// Fits reports whether the token was made for this link in this generation.
// It takes the same time however wrong the token is.
func (k Key) Fits(token, link string, generation int) bool {
	want := k.Token(link, generation)
	return want != "" && subtle.ConstantTimeCompare([]byte(token), []byte(want)) == 1
}

func (k Key) sum(id [idSize]byte, generation int) [macSize]byte {
	m := hmac.New(sha256.New, k[:])
	// A hash never refuses what is written to it.
	_, _ = m.Write([]byte("care sheet link\x00"))
	_, _ = m.Write(id[:])
	_, _ = m.Write(binary.BigEndian.AppendUint64(nil, uint64(generation)))
	var out [macSize]byte
	copy(out[:], m.Sum(nil))
	return out
}

func readID(s string) (id [idSize]byte, ok bool) {
	b, err := hex.DecodeString(strings.ReplaceAll(s, "-", ""))
	if err != nil || len(b) != idSize {
		return id, false
	}
	copy(id[:], b)
	return id, true
}
