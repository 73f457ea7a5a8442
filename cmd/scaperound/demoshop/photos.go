package demoshop

import (
	"context"
	"crypto/sha256"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"time"

	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/web/photo"
)

// photographed are the tanks that have photographs: at the first visit, half-way
// and at the newest.
var photographed = []string{firstLook, secondLook, "The long tank"}

// photos draws the shop's photographs. It returns those that go on the first
// tank's sheet: the oldest and the newest.
func (l *loader) photos(ctx context.Context, made []madeTank) (onSheet []string, err error) {
	for _, name := range photographed {
		i := indexOf(name)
		visits, err := l.db.TankVisits(ctx, made[i].id, 200)
		if err != nil || len(visits) == 0 {
			return nil, err
		}
		p := tank.Photo{Tank: made[i].id, Staff: l.regular(tanks[i].place), Purpose: tank.PhotoBefore}
		for _, at := range []struct {
			visit int
			grown float64
		}{{len(visits) - 1, 0.15}, {len(visits) / 2, 0.55}, {0, 1}} {
			p.ID, p.Visit, p.TakenAt = store.NewID(), visits[at.visit].ID, visits[at.visit].Performed.Add(4*time.Minute)
			if err := l.keepPhoto(ctx, p, tankScene(l.req.Seed+uint64(i), at.grown)); err != nil {
				return nil, err
			}
			if name == firstLook && at.visit != len(visits)/2 {
				onSheet = append(onSheet, p.ID)
			}
		}
		if name == firstLook {
			p.ID, p.Visit, p.Purpose = store.NewID(), "", tank.PhotoCabinet
			if err := l.keepPhoto(ctx, p, cabinetScene()); err != nil {
				return nil, err
			}
		}
	}
	return onSheet, nil
}

func (l *loader) keepPhoto(ctx context.Context, p tank.Photo, m image.Image) error {
	prints, err := photo.Make(m)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(prints.Large)
	p.SHA256, p.Width, p.Height = sum[:], prints.Width, prints.Height
	_, err = l.db.AddPhoto(ctx, tank.Picture{Photo: p, Large: prints.Large, Small: prints.Small, SentSHA256: sum[:]})
	return err
}

// The size of a drawn scene, pixels.
const sceneWide, sceneHigh = 900, 560

// painter draws on a picture in its own pixels.
type painter struct{ *image.RGBA }

func mix(a, b color.RGBA, t float64) color.RGBA {
	at := func(x, y uint8) uint8 { return uint8(float64(x) + (float64(y)-float64(x))*t) }
	return color.RGBA{at(a.R, b.R), at(a.G, b.G), at(a.B, b.B), 255}
}

// blob is an ellipse, lit from above and turned by an angle in radians.
func (p painter) blob(x, y, wide, high, turn float64, c color.RGBA) {
	sin, cos := math.Sincos(turn)
	reach := int(max(wide, high)) + 1
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			u, v := (float64(dx)*cos+float64(dy)*sin)/wide, (float64(dy)*cos-float64(dx)*sin)/high
			if u*u+v*v <= 1 && image.Pt(int(x)+dx, int(y)+dy).In(p.Rect) {
				p.SetRGBA(int(x)+dx, int(y)+dy, mix(c, color.RGBA{255, 255, 235, 255}, max(0, -v)*0.22))
			}
		}
	}
}

func (p painter) box(x0, y0, x1, y1 int, c color.RGBA) {
	for y := y0; y < y1; y++ {
		for x := x0; x < x1; x++ {
			p.SetRGBA(x, y, c)
		}
	}
}

// tankScene is a planted tank whose plants have grown so far, from 0 to 1: the
// same stones and roots each time.
func tankScene(seed uint64, grown float64) image.Image {
	p := painter{image.NewRGBA(image.Rect(0, 0, sceneWide, sceneHigh))}
	for y := range sceneHigh {
		c := mix(color.RGBA{214, 232, 226, 255}, color.RGBA{96, 138, 132, 255}, float64(y)/sceneHigh)
		p.box(0, y, sceneWide, y+1, c)
	}
	dice := rand.New(rand.NewPCG(seed, 7))
	greens := []color.RGBA{{66, 112, 52, 255}, {96, 142, 60, 255}, {52, 92, 62, 255}, {128, 62, 50, 255}}
	for range 34 {
		x, tall, c := dice.Float64()*sceneWide, 150+dice.Float64()*250, greens[dice.IntN(len(greens))]
		sway, phase := 4+dice.Float64()*8, dice.Float64()*6
		for up := 0.0; up < tall*grown; up += 9 {
			bend := math.Sin(up/50+phase) * sway
			for _, side := range []float64{-1, 1} {
				p.blob(x+bend+side*9, 470-up, 11, 4, side*-0.5, c)
			}
		}
	}
	ground := color.RGBA{92, 74, 54, 255}
	for x := range sceneWide {
		level := 462 + 14*math.Sin(float64(x)/140)
		p.box(x, int(level), x+1, sceneHigh, ground)
	}
	for range 7 {
		x, size := 120+dice.Float64()*660, 24+dice.Float64()*46
		p.blob(x, 462, size, size*0.62, dice.Float64()-0.5, color.RGBA{110, 112, 108, 255})
	}
	for n := range 90 {
		x, c := float64(n)*10+dice.Float64()*6, greens[dice.IntN(3)]
		if dice.Float64() < 0.25+0.75*grown {
			p.blob(x, 472+14*math.Sin(x/140)+dice.Float64()*26, 8, 4+5*grown, dice.Float64()*2-1, c)
		}
	}
	for range 9 {
		x, y := 80+dice.Float64()*740, 90+dice.Float64()*260
		p.blob(x, y, 15, 5, 0.1, color.RGBA{188, 92, 46, 255})
		p.blob(x-17, y, 6, 5, 0.8, color.RGBA{170, 80, 44, 255})
	}
	return p
}

// cabinetScene is what is below a tank: a canister, a cylinder, hoses, a shelf.
func cabinetScene() image.Image {
	p := painter{image.NewRGBA(image.Rect(0, 0, sceneWide, sceneHigh))}
	p.box(0, 0, sceneWide, sceneHigh, color.RGBA{196, 180, 152, 255})
	p.box(0, 500, sceneWide, sceneHigh, color.RGBA{150, 132, 104, 255})
	p.box(440, 0, 452, sceneHigh, color.RGBA{132, 114, 88, 255})
	p.box(90, 230, 300, 500, color.RGBA{70, 78, 76, 255})
	p.box(80, 205, 310, 240, color.RGBA{44, 52, 50, 255})
	for y := range 210 {
		p.blob(130+10*math.Sin(float64(y)/40), float64(y), 8, 8, 0, color.RGBA{120, 140, 120, 255})
		p.blob(255-12*math.Sin(float64(y)/45), float64(y), 8, 8, 0, color.RGBA{120, 140, 120, 255})
	}
	p.box(560, 180, 680, 500, color.RGBA{122, 126, 122, 255})
	p.blob(620, 180, 60, 34, 0, color.RGBA{122, 126, 122, 255})
	p.box(604, 110, 636, 160, color.RGBA{176, 148, 70, 255})
	p.blob(560, 128, 24, 24, 0, color.RGBA{230, 226, 214, 255})
	p.blob(680, 128, 24, 24, 0, color.RGBA{230, 226, 214, 255})
	p.box(740, 300, 860, 316, color.RGBA{110, 92, 68, 255})
	for i := range 3 {
		p.box(752+i*36, 240, 778+i*36, 300, color.RGBA{70, 96, 120, 255})
	}
	return p
}
