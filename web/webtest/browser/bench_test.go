package browser

import (
	"net/url"
	"strings"
	"testing"

	"scaperound/domain/calc"
	"scaperound/domain/salt"
)

// The answer comes as one types, stands in the address, and a fault stands beside
// its blank while what was typed stays.
func TestBenchAnswersAsOneTypes(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/bench/dose")
	b.Choose("#f-of", "NO3")
	b.Choose("#f-salt", "KNO3")
	b.Fill("#f-to", "12")
	b.Fill("#f-from", "6")
	b.Fill("#f-net_volume_L", "142")
	b.Until(`document.querySelector(".bench-figure")?.textContent.includes("1.39")`)
	if got := b.Text(".bench-said"); got != "From 6 mg/L to 12 mg/L NO3 in 142 L net, with KNO3:" {
		t.Errorf("it says %q", got)
	}
	address := b.Path()
	if !strings.Contains(address, "net_volume_L=142") || strings.Contains(address, "animals.unit") {
		t.Errorf("the address is %q", address)
	}
	b.Fill("#f-net_volume_L", "plenty")
	b.Until(`document.querySelector("#f-net_volume_L-fault") !== null`)
	if got := b.Text("#f-net_volume_L-fault"); !strings.Contains(got, "not a number") {
		t.Errorf("beside the blank stands %q", got)
	}
	if b.Has(".bench-figure") {
		t.Error("an answer stands for what cannot be read")
	}
	b.look(t)
	b.Fill("#f-net_volume_L", "142")
	b.Until(`document.querySelector(".bench-figure") !== null && document.querySelector(".fault") === null`)
	b.Reload()
	if got := b.Text(".bench-figure .figure"); got != "1.39" {
		t.Errorf("the address leads back to %q", got)
	}
}

// Without script the button does it.
func TestBenchWithoutScript(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.NoScript()
	b.Go("/bench/EC25")
	b.Fill("#f-EC_uS_cm", "500")
	b.Fill("#f-T_C", "20")
	b.TapTextTo("Work it out")
	// By hand: 500/0.905.
	if got := b.Text(".bench-figure .figure"); got != "552" {
		t.Errorf("it comes to %q", got)
	}
}

// A handful of pages with answers, which the walk through all pages sees empty.
func TestBenchPagesWithAnswers(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Owner, Upright)
	for _, path := range []string{
		"/bench?q=nitrate",
		"/bench/stock?salt=CuSO4.5H2O&of=Cu&rise=2&net=120&dose_mL=10",
		"/bench/dosing_plan?net=142&NO3=15&PO4=1.5&K=15&Fe=0.3&salts=KNO3&salts=K2SO4",
		"/bench/change_water?water_L=40&target_dGH=6&target_dKH=4&tap_dGH=14&tap_dKH=9",
		"/bench/light_map?PPFD=55+72+88+64+41+97+70+60+38&need=50",
		"/bench/CO2_full?tank=" + d.Tank,
		"/bench/stock/label?salt=KNO3&of=NO3&rise=2&net=120&dose_mL=10&copies=sheet",
		"/bench/change_water/label?water_L=40&target_dGH=6&target_dKH=4",
	} {
		t.Run(path, func(t *testing.T) { b.inspect(t, path, true) })
	}
}

// Nothing on any salt's label is cut off, and a sheet of eight is one page of
// either paper.
func TestLabelsOnPaper(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Owner, Upright)
	labels := 0
	for _, s := range salt.All() {
		for of := salt.Solute(0); of < salt.SoluteCount; of++ {
			query := url.Values{"salt": {s.ID}, "of": {of.String()}, "rise": {"0.1"}, "net_volume_L": {"120"}, "dose_mL": {"10"}, "for": {strings.Repeat("Mellow ", 5)}}
			def, err := calc.Find("stock")
			if err != nil {
				t.Fatal(err)
			}
			if _, err := def.Run(map[string]calc.Value{"salt": calc.WordOf(s.ID), "of": calc.WordOf(of.String()), "rise": calc.Num(0.1), "net_volume_L": calc.Num(120), "dose_mL": calc.Num(10)}); err != nil {
				continue
			}
			b.Go("/bench/stock/label?" + query.Encode())
			labels++
			if over := Eval[int](b, `Math.max(...[...document.querySelectorAll(".label")].map(l => Math.max(l.scrollHeight - l.clientHeight, l.scrollWidth - l.clientWidth)))`); over > 0 {
				t.Errorf("%s: %d px of the label are cut off: %s", s.ID, over, b.Text(".label"))
			}
			break
		}
	}
	if labels < 20 {
		t.Errorf("only %d labels were looked at", labels)
	}
	for _, path := range []string{"/bench/stock/label?salt=CuSO4.5H2O&of=Cu&rise=0.1&net=120&dose_mL=10&copies=sheet", "/bench/change_water/label?water_L=40&target_dGH=6&target_dKH=4&tap_dGH=14&tap_dKH=9&copies=sheet"} {
		if status := b.Go(path); status != 200 {
			t.Fatalf("%s answers %d", path, status)
		}
		if over := Eval[int](b, `Math.max(...[...document.querySelectorAll(".label")].map(l => l.scrollHeight - l.clientHeight))`); over > 0 {
			t.Errorf("%s: %d px are cut off", path, over)
		}
		for _, paper := range []Paper{A4, Letter} {
			if n := Pages(b.Print(paper)); n != 1 {
				t.Errorf("%s: eight labels take %d pages of %s", path, n, paper.Name)
			}
		}
	}
}
