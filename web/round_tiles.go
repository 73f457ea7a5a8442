package web

import (
	"errors"
	"net/url"
	"strings"
)

// Tiles are pictures of the ground for maps.
type Tiles struct {
	// Address holds {z}, {x} and {y} for the zoom and the tile's column and row
	// (Web Mercator); empty: maps are sketches.
	Address string
	// Credit is whom to name beside them.
	Credit string
}

// ReadTiles checks a tile address.
func ReadTiles(address string) (Tiles, error) {
	t := Tiles{Address: address}
	for _, part := range []string{"{z}", "{x}", "{y}"} {
		if strings.Count(address, part) != 1 {
			return t, errors.New("the address of tiles holds {z}, {x} and {y}, each once")
		}
	}
	if t.origin() == "" {
		return t, errors.New("that is not the address of tiles")
	}
	return t, nil
}

// origin is the scheme and host that tiles come from; empty where there are none.
func (t Tiles) origin() string {
	plain := strings.NewReplacer("{z}", "0", "{x}", "0", "{y}", "0").Replace(t.Address)
	u, err := url.Parse(plain)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.User != nil || strings.ContainsAny(u.Host, " ;,'\"*") {
		return ""
	}
	if before, _, _ := strings.Cut(t.Address, "{"); !strings.HasPrefix(before, u.Scheme+"://"+u.Host+"/") {
		return "" // the host itself holds a part that changes
	}
	return u.Scheme + "://" + u.Host
}
