package typed

import (
	"strings"
	"unicode"
)

// Unseen reports whether a sign shows nothing and says nothing, or turns the
// text around it: control signs, marks of direction, spaces of no width. Line
// ends, tabs and the two joiners that scripts and emoji are written with are
// none of them.
func Unseen(r rune) bool {
	switch r {
	case '\n', '\r', '\t', '\u200c', '\u200d':
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}

// HasUnseen reports whether the text holds an unseen sign.
func HasUnseen(s string) bool { return strings.ContainsFunc(s, Unseen) }

// WithoutUnseen is the text without its unseen signs; one that parts lines
// leaves a line end.
func WithoutUnseen(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\u2028', r == '\u2029', r == '\u0085', r == '\v', r == '\f':
			return '\n'
		case Unseen(r):
			return -1
		}
		return r
	}, s)
}
