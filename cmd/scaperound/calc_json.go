package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"strconv"

	"scaperound/domain/calc"
	"scaperound/domain/fault"
	"scaperound/domain/say"
)

// longestLine is more than any calculation needs.
const longestLine = 1 << 20

type calcAsk struct {
	ID   json.RawMessage            `json:"id"`
	Calc string                     `json:"calc"`
	In   map[string]json.RawMessage `json:"in"`
}

type calcAnswer struct {
	ID       json.RawMessage `json:"id"`
	Value    digits          `json:"value"`
	Unit     string          `json:"unit"`
	Lo       digits          `json:"lo"`
	Hi       digits          `json:"hi"`
	Steps    []calcStep      `json:"steps"`
	Source   string          `json:"source"`
	Warnings []calcWarning   `json:"warnings"`
}

type calcStep struct {
	Name    string `json:"name"`
	Formula string `json:"formula,omitempty"`
	Numbers string `json:"numbers,omitempty"`
	Value   digits `json:"value"`
	Unit    string `json:"unit"`
}

type calcWarning struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

type calcFault struct {
	ID     json.RawMessage `json:"id"`
	Fault  string          `json:"fault"`
	Faults []fieldFault    `json:"faults,omitempty"`
}

type fieldFault struct {
	Field string `json:"field"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
}

// digits is a number written with twelve significant digits; an open end is null.
type digits float64

// MarshalJSON writes the number.
func (d digits) MarshalJSON() ([]byte, error) {
	v := float64(d)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, v, 'g', 12, 64), nil
}

// calcLines answers line by line until the input ends. Only a failing stream ends
// it early.
func calcLines(in io.Reader, out io.Writer) error {
	sc := bufio.NewScanner(in)
	sc.Buffer(make([]byte, 0, 64<<10), longestLine)
	w := bufio.NewWriter(out)
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for sc.Scan() {
		line := bytes.TrimSpace(sc.Bytes())
		if len(line) == 0 {
			continue
		}
		if err := enc.Encode(answerLine(line)); err != nil {
			return fault.Wrap(fault.Unavailable, err, "The answers cannot be written.")
		}
		// A program that asks and waits for the answer gets it now.
		if err := w.Flush(); err != nil {
			return fault.Wrap(fault.Unavailable, err, "The answers cannot be written.")
		}
	}
	if errors.Is(sc.Err(), bufio.ErrTooLong) {
		return fault.New(fault.TooLarge, "A line is longer than 1 MiB; the lines before it are answered.")
	}
	return sc.Err()
}

func answerLine(line []byte) any {
	var ask calcAsk
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&ask); err != nil || dec.More() {
		text := `The line is not one object {"id","calc","in"}`
		if err != nil {
			text += ": " + err.Error()
		}
		return calcFault{ID: orNull(ask.ID), Fault: text + "."}
	}
	a, d, err := evaluate(ask)
	if err != nil {
		return faultOf(ask.ID, err)
	}
	out := calcAnswer{
		ID: orNull(ask.ID), Value: digits(a.Value), Unit: string(a.Unit), Lo: digits(a.Lo), Hi: digits(a.Hi), Source: string(d.Source),
		Steps: make([]calcStep, len(a.Steps)), Warnings: make([]calcWarning, len(a.Warn)),
	}
	for i, s := range a.Steps {
		out.Steps[i] = calcStep{s.Name, s.Formula, s.Filled, digits(s.Value), string(s.Unit)}
	}
	for i, s := range a.Warn {
		out.Warnings[i] = calcWarning{s.ID, say.Render(s, say.MetricUnits)}
	}
	return out
}

func evaluate(ask calcAsk) (calc.Answer, *calc.Def, error) {
	d, err := calc.Find(ask.Calc)
	if err != nil {
		return calc.Answer{}, nil, err
	}
	raw := make(map[string]calc.Value, len(ask.In))
	var faults fault.Fields
	for key, text := range ask.In {
		v, given, ok := readValue(text)
		switch {
		case !ok:
			faults.Add(key, fault.NotNumber, "%s wants a number, a word, or several of one kind.", key)
		case given:
			raw[key] = v
		}
	}
	if err := faults.Err(); err != nil {
		return calc.Answer{}, nil, err
	}
	a, err := d.Run(raw)
	return a, d, err
}

// readValue reads a number, a string or a list of either; null is the same as
// leaving the key out. A string with a number in it is that number.
func readValue(text json.RawMessage) (v calc.Value, given, ok bool) {
	var raw any
	if err := json.Unmarshal(text, &raw); err != nil {
		return calc.Value{}, false, false
	}
	switch x := raw.(type) {
	case nil:
		return calc.Value{}, false, true
	case bool:
		if x {
			return calc.Num(1), true, true
		}
		return calc.Num(0), true, true
	case float64:
		return calc.Num(x), true, true
	case string:
		if n, err := strconv.ParseFloat(x, 64); err == nil && !math.IsNaN(n) && !math.IsInf(n, 0) {
			return calc.Num(n), true, true
		}
		return calc.WordOf(x), true, true
	case []any:
		for _, item := range x {
			switch y := item.(type) {
			case float64:
				v.Nums = append(v.Nums, y)
			case string:
				v.Words = append(v.Words, y)
			default:
				return calc.Value{}, false, false
			}
		}
		return v, true, len(v.Nums) == 0 || len(v.Words) == 0
	}
	return calc.Value{}, false, false
}

func faultOf(id json.RawMessage, err error) calcFault {
	f := fault.Of(err)
	out := calcFault{ID: orNull(id), Fault: f.Msg}
	for _, x := range f.Fields {
		out.Faults = append(out.Faults, fieldFault{x.Name, x.Kind, x.Text})
	}
	if len(f.Fields) == 1 {
		out.Fault = f.Fields[0].Text
	}
	if out.Fault == "" {
		out.Fault = "It cannot be computed."
	}
	return out
}

func orNull(id json.RawMessage) json.RawMessage {
	if len(id) == 0 {
		return json.RawMessage("null")
	}
	return id
}
