package share

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"strings"
	"testing"
)

const someLink = "0193a5b2-7c4e-7def-8123-456789abcdef"

func TestTokenIsTheIDAndItsHMAC(t *testing.T) {
	key := Key{1, 2, 3}
	raw, err := base64.RawURLEncoding.DecodeString(key.Token(someLink, 7))
	if err != nil {
		t.Fatal(err)
	}
	id, err := hex.DecodeString(strings.ReplaceAll(someLink, "-", ""))
	if err != nil {
		t.Fatal(err)
	}
	m := hmac.New(sha256.New, key[:])
	m.Write([]byte("care sheet link\x00"))
	m.Write(id)
	m.Write([]byte{0, 0, 0, 0, 0, 0, 0, 7})
	want := hex.EncodeToString(append(id, m.Sum(nil)[:16]...))
	if got := hex.EncodeToString(raw); got != want {
		t.Errorf("the token holds %s, want %s", got, want)
	}
}

func TestFits(t *testing.T) {
	key, other := Key{1}, Key{2}
	token := key.Token(someLink, 1)
	if link, ok := LinkOf(token); !ok || link != someLink {
		t.Fatalf("LinkOf = %q, %v", link, ok)
	}
	flipped := []byte(token)
	flipped[40] ^= 1
	for name, c := range map[string]struct {
		key        Key
		token      string
		link       string
		generation int
		want       bool
	}{
		"its own":         {key, token, someLink, 1, true},
		"next generation": {key, token, someLink, 2, false},
		"another key":     {other, token, someLink, 1, false},
		"another link":    {key, token, "0193a5b2-7c4e-7def-8123-456789abcdee", 1, false},
		"a changed bit":   {key, string(flipped), someLink, 1, false},
		"nothing":         {key, "", someLink, 1, false},
		"no id":           {key, "", "nonsense", 1, false},
	} {
		if got := c.key.Fits(c.token, c.link, c.generation); got != c.want {
			t.Errorf("%s: Fits = %v", name, got)
		}
	}
}

func TestLinkOfNonsense(t *testing.T) {
	for _, token := range []string{"", "x", "!!!!", strings.Repeat("A", 42), strings.Repeat("A", 44), strings.Repeat("A", 4000)} {
		if link, ok := LinkOf(token); ok {
			t.Errorf("LinkOf(%q) = %q", token, link)
		}
	}
}
