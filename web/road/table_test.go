package road_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/web/road"
)

var two = []customer.Position{{Lat: 53.41, Lon: -6.33}, {Lat: 53.4, Lon: -6.31}}

func serve(t *testing.T, status int, body string) (*road.Service, *string) {
	asked := new(string)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		*asked = r.URL.String()
		w.WriteHeader(status)
		_, _ = w.Write([]byte(body))
	}))
	t.Cleanup(server.Close)
	base, _ := url.Parse(server.URL + "/roads")
	return road.New(base), asked
}

func TestTableAsksForAllPointsAtOnce(t *testing.T) {
	s, asked := serve(t, 200, `{"code":"Ok","durations":[[0,301.4],[299.5,0]],"distances":[[0,1800],[1750.2,0]]}`)
	seconds, metres, err := s.Table(t.Context(), two)
	if err != nil || !slices.Equal(seconds, []int32{0, 301, 300, 0}) || !slices.Equal(metres, []int32{0, 1800, 1750, 0}) {
		t.Errorf("got %v, %v, %v", seconds, metres, err)
	}
	// Longitude comes first, as the interface wants it.
	if want := "/roads/table/v1/driving/-6.330000,53.410000;-6.310000,53.400000?annotations=duration,distance"; *asked != want {
		t.Errorf("asked %s", *asked)
	}
}

func TestTableRefusesNonsense(t *testing.T) {
	for name, body := range map[string]string{
		"no JSON":         `<html>`,
		"an error":        `{"code":"InvalidQuery","message":"too many points"}`,
		"a missing row":   `{"code":"Ok","durations":[[0,301.4]]}`,
		"a short row":     `{"code":"Ok","durations":[[0],[299.5,0]]}`,
		"no way":          `{"code":"Ok","durations":[[0,null],[299.5,0]]}`,
		"a negative time": `{"code":"Ok","durations":[[0,-5],[299.5,0]]}`,
		"an endless body": `{"code":"` + strings.Repeat("a", 5<<20) + `"}`,
	} {
		s, _ := serve(t, 200, body)
		if seconds, _, err := s.Table(t.Context(), two); err == nil {
			t.Errorf("%s: got %v", name, seconds)
		}
	}
	s, _ := serve(t, 302, "")
	if _, _, err := s.Table(t.Context(), two); err == nil {
		t.Error("followed a redirect")
	}
}
