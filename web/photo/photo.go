// Package photo makes prints of pictures that somebody sent. No picture is
// trusted: its kind is told by its bytes, its size is read before anything is
// unpacked, and what is kept was drawn and written anew, so that nothing of the
// file but the picture itself survives.
package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"time"

	"scaperound/domain/fault"
)

// What is taken and what is made of it.
const (
	MaxBytes  = 12 << 20   // of a file
	MaxPixels = 32_000_000 // of a picture, width by height
	LargeEdge = 1600       // pixels, the longer edge of the large print
	SmallEdge = 480        // pixels, of the small one

	largeQuality, smallQuality = 82, 78 // of a JPEG, 1 to 100
	// A picture that is sent in passes has some ten of them. One with thousands
	// is made to keep the server busy.
	maxPasses = 120
)

// Prints are the two prints of a picture, as JPEG files, upright.
type Prints struct {
	Large, Small  []byte
	Width, Height int // of the large one, pixels
}

// Taken is what a picture says of itself and does not keep.
type Taken struct {
	// Wall is the camera's own clock, which knows no zone; empty where the
	// picture says nothing. Layout reads it.
	Wall string
}

// Layout is how a camera writes its clock (Exif 2.32, DateTimeOriginal).
const Layout = "2006:01:02 15:04:05"

// In is the moment in a zone; ok is false where the picture does not say.
func (t Taken) In(zone *time.Location) (at time.Time, ok bool) {
	at, err := time.ParseInLocation(Layout, t.Wall, zone)
	return at.UTC(), err == nil
}

// Read makes the prints of a file. It returns an Invalid fault for what is no
// picture of a kind that is taken or is broken, TooLarge for one with more bytes
// or pixels than are taken.
func Read(file []byte) (Prints, Taken, error) {
	kind, err := kindOf(file)
	if err != nil {
		return Prints{}, Taken{}, err
	}
	config, err := kind.config(bytes.NewReader(file))
	if err != nil || config.Width <= 0 || config.Height <= 0 {
		return Prints{}, Taken{}, broken(err)
	}
	if pixels := int64(config.Width) * int64(config.Height); pixels > MaxPixels {
		return Prints{}, Taken{}, fault.New(fault.TooLarge, "This picture has %d × %d dots, some %d million. At most %d million are taken: choose a smaller size in the camera.",
			config.Width, config.Height, pixels/1_000_000, MaxPixels/1_000_000)
	}
	if bytes.Count(file, []byte{0xff, 0xda}) > maxPasses {
		return Prints{}, Taken{}, broken(nil)
	}
	full, err := kind.decode(bytes.NewReader(file))
	if err != nil {
		return Prints{}, Taken{}, broken(err)
	}
	tags := exifOf(file)
	p, err := prints(upright(shrink(full, LargeEdge), tags.orientation))
	return p, Taken{Wall: tags.wall}, err
}

// Make makes the prints of a picture that is trusted and upright.
func Make(m image.Image) (Prints, error) { return prints(shrink(m, LargeEdge)) }

func prints(large *image.RGBA) (p Prints, err error) {
	p = Prints{Width: large.Rect.Dx(), Height: large.Rect.Dy()}
	if p.Large, err = encode(large, largeQuality); err == nil {
		p.Small, err = encode(shrink(large, SmallEdge), smallQuality)
	}
	return p, err
}

func encode(m image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality})
	if err != nil {
		return nil, &fault.Error{Kind: fault.Internal, Err: err}
	}
	return b.Bytes(), nil
}

func broken(err error) error {
	return fault.Wrap(fault.Invalid, err, "This picture is broken or did not arrive whole. Take it or choose it again.")
}

// A kind of picture is known by how its file begins.
type kind struct {
	magic  string
	config func(*bytes.Reader) (image.Config, error)
	decode func(*bytes.Reader) (image.Image, error)
}

var kinds = []kind{
	{"\xff\xd8\xff",
		func(r *bytes.Reader) (image.Config, error) { return jpeg.DecodeConfig(r) },
		func(r *bytes.Reader) (image.Image, error) { return jpeg.Decode(r) }},
	{"\x89PNG\r\n\x1a\n",
		func(r *bytes.Reader) (image.Config, error) { return png.DecodeConfig(r) },
		func(r *bytes.Reader) (image.Image, error) { return png.Decode(r) }},
}

// others are kinds that people send and that are not taken, by what stands at
// a place of their file.
var others = []struct {
	at          int
	magic, name string
}{{4, "ftyphei", "HEIC"}, {4, "ftyphev", "HEIC"}, {4, "ftypmif1", "HEIC"}, {4, "ftypavif", "AVIF"}, {8, "WEBP", "WebP"}, {0, "GIF8", "GIF"}, {0, "II*\x00", "TIFF or a raw"}, {0, "MM\x00*", "TIFF or a raw"}, {0, "BM", "BMP"}}

func kindOf(file []byte) (kind, error) {
	if len(file) == 0 {
		return kind{}, fault.New(fault.Invalid, "The file is empty. Take the picture or choose it again.")
	}
	if len(file) > MaxBytes {
		return kind{}, TooLarge()
	}
	for _, k := range kinds {
		if bytes.HasPrefix(file, []byte(k.magic)) {
			return k, nil
		}
	}
	for _, o := range others {
		if len(file) > o.at && bytes.HasPrefix(file[o.at:], []byte(o.magic)) {
			return kind{}, fault.New(fault.Invalid, "This is a %s picture. Only JPEG and PNG are taken: save it as JPEG, or set the camera to it.", o.name)
		}
	}
	return kind{}, fault.New(fault.Invalid, "This is no picture, whatever its name says. JPEG and PNG are taken.")
}

// TooLarge is the fault of a file with more than MaxBytes.
func TooLarge() error {
	return fault.New(fault.TooLarge, "This file has more than %d MB, which is the most that is taken. Choose a smaller size in the camera.", MaxBytes>>20)
}
