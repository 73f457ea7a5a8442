package web

import (
	"context"

	"scaperound/domain/share"
	"scaperound/domain/tank"
)

// photoStore keeps photographs and their prints.
type photoStore interface {
	// PhotoSeen reports whether these bytes came under the id before; Conflict
	// where other ones did.
	PhotoSeen(ctx context.Context, id string, sent []byte) (bool, error)
	AddPhoto(ctx context.Context, p tank.Picture) (replay bool, err error)
	Photo(ctx context.Context, id string) (tank.Photo, error)
	// PhotoPrint is a JPEG file; NotFound for what was taken back.
	PhotoPrint(ctx context.Context, id string, small bool) ([]byte, error)
	// TankPhotos lists the newest first.
	TankPhotos(ctx context.Context, tank string) ([]tank.Photo, error)
	// WithdrawPhoto is Forbidden for somebody else's, but for the owner.
	WithdrawPhoto(ctx context.Context, by string, owner bool, id string, withdrawn bool) error
	SheetPrints(ctx context.Context, sheet string) ([]share.Print, error)
	// PrintShared reports whether a photograph is on a sheet behind the tank's link.
	PrintShared(ctx context.Context, tank, photo string) (bool, error)
}

type photoPages struct {
	*shell
	store photoStore
	links linkStore
	room  *darkroom
}

func photosPath(tankID string) string { return tankPath(tankID) + "/photos" }

func photoPath(id string) string { return "/photos/" + id }
