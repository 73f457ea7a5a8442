// Package main_test compares the browser build with the native one.
package main_test

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"scaperound/domain/calc"
	"scaperound/domain/wire"
	"scaperound/web/webtest/browser"
)

// An ask is one question to both builds.
type ask struct {
	Call string `json:"call"` // assess, learn or calc
	Text string `json:"text"`
}

func (a ask) native() string {
	switch a.Call {
	case "calc":
		return string(wire.Calc([]byte(a.Text)))
	case "learn":
		return learnt(a.Text)
	}
	out, err := wire.Assess([]byte(a.Text))
	if err != nil {
		out = wire.EncodeFaults(err)
	}
	return string(out)
}

// randomInputs are so many for each calculation.
const randomInputs = 40

// Every digit of what the page computes is the one that the server computes:
// the worked values, an example and random inputs of every calculation, and the
// visits that the rules are tried on.
func TestBrowserAgreesWithTheServer(t *testing.T) {
	profile := browser.Profile(t)
	b := browser.Launch(t, profile) // skips where there is no browser
	asks := append(workedValues(t), examples(t)...)
	asks = append(asks, corpus(t)...)
	asks = append(asks, years(t)...)
	if len(asks) < 1000 {
		t.Fatalf("only %d questions: this test looks in the wrong place", len(asks))
	}
	answers := inBrowser(t, b, asks)
	if len(answers) != len(asks) {
		t.Fatalf("%d answers to %d questions", len(answers), len(asks))
	}
	faults, wrong := 0, 0
	for i, a := range asks {
		want := a.native()
		if strings.Contains(want, `"fault"`) || strings.Contains(want, `"faults"`) {
			faults++
		}
		if answers[i] != want {
			if wrong++; wrong <= 5 {
				t.Errorf("%s %s\nserver  %s\nbrowser %s", a.Call, a.Text, want, answers[i])
			}
		}
	}
	if wrong > 5 {
		t.Errorf("%d of %d answers differ", wrong, len(asks))
	}
	if faults > len(asks)/2 {
		t.Errorf("%d of %d are faults: the questions are not worth much", faults, len(asks))
	}
}

// inBrowser puts every question to the browser build, in one page.
func inBrowser(t *testing.T, b *browser.Browser, asks []ask) []string {
	t.Helper()
	dir := t.TempDir()
	cmd := exec.Command("go", "run", "scaperound/cmd/tablet/build", "-tags", "calc", "-o", dir)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	page := `<!doctype html><title>both</title><script src="/wasm_exec.js"></script>`
	if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	questions, err := json.Marshal(asks)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "asks.json"), questions, 0o600); err != nil {
		t.Fatal(err)
	}
	site := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(site.Close)
	tab := b.Tab(t, site.URL, browser.Upright)
	tab.Go("/")
	return browser.Eval[[]string](tab, `(async () => {
		const ready = new Promise((done) => addEventListener("scaperound-ready", done, { once: true }));
		const go = new Go();
		const built = await WebAssembly.instantiateStreaming(fetch("/assess.wasm"), go.importObject);
		go.run(built.instance);
		await ready;
		const asks = await (await fetch("/asks.json")).json();
		return asks.map((a) => globalThis.scaperound[a.call](a.text));
	})()`)
}

const calcFolder = "../../domain/calc/testdata"

func workedValues(t *testing.T) []ask {
	t.Helper()
	var out []ask
	for _, name := range []string{"vectors.csv", "worked.csv"} {
		f, err := os.Open(filepath.Join(calcFolder, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows[1:] {
			in := map[string]calc.Value{}
			for _, pair := range strings.Split(r[1], " | ") {
				if key, text, ok := strings.Cut(pair, "="); ok {
					in[key] = calc.ParseValue(text)
				}
			}
			out = append(out, asked(t, r[0], in))
		}
	}
	return out
}

// examples are the example of every calculation, and others around it.
func examples(t *testing.T) []ask {
	t.Helper()
	var out []ask
	defs := calc.All()
	for i := range defs {
		d := &defs[i]
		example := d.Example()
		out = append(out, asked(t, d.Name, example))
		if len(d.In) == 0 {
			continue
		}
		chance := rand.New(rand.NewPCG(7, uint64(i)))
		for range randomInputs {
			in := map[string]calc.Value{}
			for key, v := range example {
				in[key] = calc.Value{Words: v.Words, Nums: slices.Clone(v.Nums)}
				for j, n := range in[key].Nums {
					in[key].Nums[j] = near(chance, n)
				}
			}
			for _, x := range d.In {
				if len(x.Choices) > 0 && chance.IntN(4) == 0 {
					in[x.Key] = calc.WordOf(x.Choices[chance.IntN(len(x.Choices))])
				}
			}
			out = append(out, asked(t, d.Name, in))
		}
	}
	return out
}

// near is a number of the same size, with all the digits that a float has; what
// counts things stays whole.
func near(chance *rand.Rand, n float64) float64 {
	by := math.Exp((chance.Float64() - 0.5) * 0.6)
	if n == math.Trunc(n) && n < 20 && chance.IntN(3) > 0 {
		return math.Round(n * by)
	}
	return n * by
}

func asked(t *testing.T, name string, in map[string]calc.Value) ask {
	t.Helper()
	values := map[string]any{}
	for key, v := range in {
		switch {
		case len(v.Nums) == 1:
			values[key] = v.Nums[0]
		case len(v.Nums) > 1:
			values[key] = v.Nums
		case len(v.Words) == 1:
			values[key] = v.Words[0]
		default:
			values[key] = v.Words
		}
	}
	b, err := json.Marshal(map[string]any{"id": name, "calc": name, "in": values})
	if err != nil {
		t.Fatal(err)
	}
	return ask{"calc", string(b)}
}

func corpus(t *testing.T) []ask {
	t.Helper()
	f, err := os.Open("../../domain/care/testdata/corpus.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []ask
	for lines := bufio.NewScanner(f); lines.Scan(); {
		var c struct{ Visit map[string]any }
		if err := json.Unmarshal(lines.Bytes(), &c); err != nil {
			t.Fatal(err)
		}
		for _, day := range []string{"", "2026-03-03"} {
			if day != "" {
				c.Visit["day"] = day
			}
			doc, err := json.Marshal(c.Visit)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, ask{"assess", string(doc)})
		}
	}
	if len(out) < 100 {
		t.Fatalf("the corpus has %d visits", len(out)/2)
	}
	return append(out, ask{"assess", `{"readings":{"ph_late":"x"}}`}, ask{"assess", fmt.Sprint("[", strings.Repeat("[", 50))})
}
