package demoshop

import (
	"context"

	"scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/store"
)

// Request says which shop to make. The same request makes the same shop, but
// for the keys of its records.
type Request struct {
	Seed  uint64
	Today quantity.Date  // the day that everything is dated from, in the shop's zone
	Staff []staff.Person // the people of People, in that order, with their keys
	// LinkKey is the key under the care-sheet links.
	LinkKey share.Key
}

// Made is what the demo tells about the shop that was made.
type Made struct {
	Tank      string `json:"tank"`       // key of a tank that is worth a first look
	Tank2     string `json:"tank2"`      // key of another one
	Tank2Name string `json:"tank2_name"` // its name
	Link      string `json:"link"`       // path of a customer's care sheet
	Print     string `json:"print"`      // path of its printed form
}

// Load fills an empty shop that has its settings and its staff already.
func Load(ctx context.Context, db *store.DB, r Request) (Made, error) {
	return Made{}, nil
}
