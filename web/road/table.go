// Package road asks a routing service how long driving takes, by the open table
// interface that several free routing servers answer: one GET with all points,
// one JSON table of seconds and metres back.
package road

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/customer"
)

// Service is a routing service at an address such as http://roads.example:5000.
type Service struct {
	base    *url.URL
	profile string
	client  *http.Client
}

// The most that an answer may hold: 100 points squared, twice, with room.
const maxAnswer = 4 << 20

// New is the service at an address: its scheme, host, and a path before
// /table/v1 where it has one.
func New(base *url.URL) *Service {
	return &Service{base: base, profile: "driving", client: &http.Client{
		Timeout: 20 * time.Second,
		// An answer comes from the named address or not at all.
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// answer is what comes back. A pair that cannot be driven is null.
type answer struct {
	Code      string       `json:"code"`
	Message   string       `json:"message"`
	Durations [][]*float64 `json:"durations"` // seconds
	Distances [][]*float64 `json:"distances"` // metres; not every service tells them
}

// Table returns the seconds from each point to each other, row by row, and the
// metres where the service tells them.
func (s *Service) Table(ctx context.Context, points []customer.Position) (seconds, metres []int32, err error) {
	if len(points) == 0 {
		return nil, nil, nil
	}
	var at []string
	for _, p := range points {
		at = append(at, strconv.FormatFloat(p.Lon, 'f', 6, 64)+","+strconv.FormatFloat(p.Lat, 'f', 6, 64))
	}
	u := s.base.JoinPath("table", "v1", s.profile, strings.Join(at, ";"))
	u.RawQuery = "annotations=duration,distance"
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, u.String(), nil)
	if err != nil {
		return nil, nil, err
	}
	req.Header.Set("Accept", "application/json")
	res, err := s.client.Do(req)
	if err != nil {
		return nil, nil, err
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return nil, nil, fmt.Errorf("it answered %s", res.Status)
	}
	var a answer
	if err := json.NewDecoder(io.LimitReader(res.Body, maxAnswer)).Decode(&a); err != nil {
		return nil, nil, fmt.Errorf("its answer cannot be read: %w", err)
	}
	if a.Code != "Ok" {
		return nil, nil, fmt.Errorf("it answered %q: %s", a.Code, a.Message)
	}
	if seconds, err = flat(a.Durations, len(points)); err != nil {
		return nil, nil, fmt.Errorf("durations: %w", err)
	}
	if len(a.Distances) > 0 {
		if metres, err = flat(a.Distances, len(points)); err != nil {
			return nil, nil, fmt.Errorf("distances: %w", err)
		}
	}
	return seconds, metres, nil
}

// flat is a square table as one row after the other, in whole numbers.
func flat(table [][]*float64, n int) ([]int32, error) {
	if len(table) != n {
		return nil, fmt.Errorf("%d rows for %d points", len(table), n)
	}
	out := make([]int32, 0, n*n)
	for i, row := range table {
		if len(row) != n {
			return nil, fmt.Errorf("row %d has %d columns for %d points", i, len(row), n)
		}
		for j, v := range row {
			if v == nil || math.IsNaN(*v) || *v < 0 || *v > 1e8 {
				return nil, fmt.Errorf("no way from point %d to point %d", i, j)
			}
			out = append(out, int32(math.Round(*v)))
		}
	}
	return out, nil
}
