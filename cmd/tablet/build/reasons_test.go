package main

import (
	"bytes"
	"testing"

	"scaperound/domain/care"
)

func TestReasonsOfRulesAreForgotten(t *testing.T) {
	rules := care.Rules()
	once, twice := rules[0].Why, rules[1].Why
	memory := []byte("a" + once + "b" + twice + "c" + twice + "d" + rules[0].Source)
	forgetReasons(memory)
	if bytes.Contains(memory, []byte(once)) {
		t.Error("why the first rule is there is still told")
	}
	if n := bytes.Count(memory, []byte(twice)); n != 2 {
		t.Errorf("a text that stands there twice is left %d times", n)
	}
	for _, left := range []string{"a\x00", "\x00b", "d" + rules[0].Source} {
		if !bytes.Contains(memory, []byte(left)) {
			t.Errorf("%q is gone too", left)
		}
	}
}
