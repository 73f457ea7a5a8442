package store

import (
	"encoding/hex"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
	"golang.org/x/text/unicode/norm"
)

// letters that decomposition leaves alone and that people type plainly.
var plainLetters = strings.NewReplacer("ß", "ss", "ø", "o", "đ", "d", "ł", "l", "æ", "ae", "œ", "oe", "þ", "th", "ð", "d", "ı", "i")

// Fold is the form in which text is searched: small letters without accents,
// words parted by one space, nothing but letters and digits.
func Fold(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(plainLetters.Replace(strings.ToLower(text))) {
		switch {
		case unicode.Is(unicode.Mn, r), r == '\'', r == '’':
		case unicode.IsLetter(r), unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		default:
			gap = true
		}
	}
	return b.String()
}

// collators are not safe for use at the same time.
var collators = sync.Pool{New: func() any {
	return collate.New(language.Und, collate.Loose, collate.Numeric)
}}

// SortKey is a text whose order, byte by byte and in every locale of the
// database, is the order people expect of the names: accents and case do not
// count, and 2 stands before 10.
func SortKey(name string) string {
	c := collators.Get().(*collate.Collator)
	defer collators.Put(c)
	var buf collate.Buffer
	return hex.EncodeToString(c.KeyFromString(&buf, name))
}
