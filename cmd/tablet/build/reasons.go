package main

import (
	"bytes"

	"scaperound/domain/care"
)

// forgetReasons blanks why each rule is there: a page of the shop's tells it, and a
// judgement never does. A text that stands there twice, or not at all, is left.
func forgetReasons(memory []byte) {
	for _, r := range care.Rules() {
		why := []byte(r.Why)
		at := bytes.Index(memory, why)
		if len(why) == 0 || at < 0 || bytes.Contains(memory[at+1:], why) {
			continue
		}
		clear(memory[at : at+len(why)])
	}
}
