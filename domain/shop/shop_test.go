package shop_test

import (
	"strings"
	"testing"

	"scaperound/domain/say"
	"scaperound/domain/shop"
)

func TestCheckReportsEveryFaultAtOnce(t *testing.T) {
	_, fs := shop.Settings{Phone: "ask at the desk", Locale: "xx", Units: "imperial", Paper: "B5"}.Check()
	var got []string
	for _, f := range fs {
		got = append(got, f.Name)
	}
	if want := "name zone locale units paper phone"; strings.Join(got, " ") != want {
		t.Errorf("faults of %v, want %s", got, want)
	}
	ok := shop.Settings{Name: " Fernweir  Aquascapes ", Zone: "Europe/Dublin", Locale: "en-IE", Units: say.Metric, Paper: shop.A4, Phone: "+353 1 555 0100"}
	s, fs := ok.Check()
	if len(fs) != 0 || s.Name != "Fernweir Aquascapes" {
		t.Errorf("settings %+v, faults %v", s, fs)
	}
}

func TestPersonsOwnUnitsGoBeforeTheShops(t *testing.T) {
	s := shop.Settings{Locale: "en-DE", Units: say.Metric}
	if u := s.Reads(""); u.System != say.Metric || u.Decimal != ',' {
		t.Errorf("reads %+v", u)
	}
	if u := s.Reads(say.US); u.System != say.US || u.Decimal != ',' {
		t.Errorf("reads %+v", u)
	}
}
