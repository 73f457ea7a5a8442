//go:build js && wasm

// Command tablet is the domain as the visit's page runs it, without a signal.
// It sets globalThis.scaperound.assess(text), which answers one document with
// one document, and scaperound.judge(board, form, now), which says what a form
// means so far; it fires scaperound-ready when it stands. go generate ./static
// builds it.
package main

import (
	"syscall/js"

	"scaperound/domain/fault"
	"scaperound/domain/wire"
)

func main() {
	house := js.Global().Get("scaperound")
	if house.IsUndefined() {
		house = js.Global().Get("Object").New()
		js.Global().Set("scaperound", house)
	}
	for name, answer := range answers {
		house.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return said(answer, args) }))
	}
	if event := js.Global().Get("Event"); !event.IsUndefined() {
		js.Global().Call("dispatchEvent", event.New("scaperound-ready"))
	}
	select {} // it answers as long as the page lives
}

// An answer is JSON for one or more texts.
type answer func(texts []string) ([]byte, error)

var answers = map[string]answer{
	"assess": func(texts []string) ([]byte, error) { return wire.Assess([]byte(texts[0])) },
	"judge": func(texts []string) ([]byte, error) {
		if len(texts) != 3 {
			return nil, fault.New(fault.Malformed, "judge takes the tank's document, the form and the time.")
		}
		return wire.Judge([]byte(texts[0]), []byte(texts[1]), texts[2])
	},
}

// said answers with faults where something is wrong; a mistake of our own must
// not end the program, for the next keystroke asks again.
func said(f answer, args []js.Value) (out string) {
	defer func() {
		if recover() != nil {
			out = string(wire.EncodeFaults(fault.New(fault.Internal, "The browser's part of the program has made a mistake.")))
		}
	}()
	texts := make([]string, max(1, len(args)))
	for i, a := range args {
		texts[i] = a.String()
	}
	b, err := f(texts)
	if err != nil {
		b = wire.EncodeFaults(err)
	}
	return string(b)
}
