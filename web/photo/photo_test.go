package photo_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
	"time"

	"scaperound/domain/fault"
	"scaperound/web/photo"
)

var (
	red, green = color.RGBA{200, 30, 30, 255}, color.RGBA{30, 160, 60, 255}
	blue, grey = color.RGBA{30, 50, 200, 255}, color.RGBA{128, 128, 128, 255}
)

// corners is a picture with another colour in each corner: red at the top left,
// green at the top right, blue at the bottom left, grey at the bottom right.
func corners(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := red
			switch {
			case x >= w/2 && y >= h/2:
				c = grey
			case x >= w/2:
				c = green
			case y >= h/2:
				c = blue
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func asJPEG(t *testing.T, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// noted puts a block of Exif into a JPEG file: which way is up, a date, and a
// place that nobody outside should learn.
func noted(file []byte, orientation uint16) []byte {
	const place = "PLACE-53.3498N-6.2603W"
	block := []byte("II*\x00\x08\x00\x00\x00")
	u16 := func(v uint16) { block = binary.LittleEndian.AppendUint16(block, v) }
	u32 := func(v uint32) { block = binary.LittleEndian.AppendUint32(block, v) }
	u16(3)
	u16(0x0112)
	u16(3)
	u32(1)
	u32(uint32(orientation))
	u16(0x8769)
	u16(4)
	u32(1)
	u32(50)
	u16(0x8825) // where the place stands
	u16(4)
	u32(1)
	u32(90)
	u32(0)
	u16(1) // at 50
	u16(0x9003)
	u16(2)
	u32(20)
	u32(68)
	u32(0)
	block = append(block, "2026:11:20 09:15:30\x00\x00\x00"...) // at 68
	block = append(block, place...)
	segment := append([]byte("Exif\x00\x00"), block...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(segment)+2))...)
	return append(append(out, segment...), file[2:]...)
}

func near(a, b color.Color) bool {
	ar, ag, ab, _ := a.RGBA()
	br, bg, bb, _ := b.RGBA()
	for _, d := range []int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
		if d > 0x1800 || d < -0x1800 {
			return false
		}
	}
	return true
}

func open(t *testing.T, file []byte) image.Image {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestPrintsAreUprightAndSmall(t *testing.T) {
	// Where the corner that the camera saw at the top left lies once the picture
	// stands upright: Exif 2.32, table of tag 0x0112.
	for orientation, want := range map[uint16][4]color.Color{
		1: {red, green, blue, grey}, 2: {green, red, grey, blue}, 3: {grey, blue, green, red}, 4: {blue, grey, red, green},
		5: {red, blue, green, grey}, 6: {blue, red, grey, green}, 7: {grey, green, blue, red}, 8: {green, grey, red, blue},
	} {
		p, taken, err := photo.Read(noted(asJPEG(t, corners(2400, 1200)), orientation))
		if err != nil {
			t.Fatal(orientation, err)
		}
		w, h := photo.LargeEdge, photo.LargeEdge/2
		if orientation >= 5 {
			w, h = h, w
		}
		large, small := open(t, p.Large), open(t, p.Small)
		if p.Width != w || p.Height != h || large.Bounds().Dx() != w || large.Bounds().Dy() != h {
			t.Errorf("%d: %d × %d, want %d × %d", orientation, p.Width, p.Height, w, h)
		}
		if got := max(small.Bounds().Dx(), small.Bounds().Dy()); got != photo.SmallEdge {
			t.Errorf("%d: the small print's edge is %d", orientation, got)
		}
		for _, m := range []image.Image{large, small} {
			x, y := m.Bounds().Dx(), m.Bounds().Dy()
			for i, at := range []image.Point{{x / 8, y / 8}, {x * 7 / 8, y / 8}, {x / 8, y * 7 / 8}, {x * 7 / 8, y * 7 / 8}} {
				if !near(m.At(at.X, at.Y), want[i]) {
					t.Errorf("%d: corner %d is %v, want %v", orientation, i, m.At(at.X, at.Y), want[i])
				}
			}
		}
		zone := time.FixedZone("shop", 3600)
		if at, ok := taken.In(zone); !ok || !at.Equal(time.Date(2026, 11, 20, 8, 15, 30, 0, time.UTC)) {
			t.Errorf("%d: taken at %v, %v", orientation, at, ok)
		}
	}
}

func TestNothingButThePictureSurvives(t *testing.T) {
	file := noted(asJPEG(t, corners(300, 200)), 1)
	file = append(file, "<script>polyglot()</script>PK\x03\x04"...)
	if !bytes.Contains(file, []byte("PLACE-53")) {
		t.Fatal("the test's own file holds no place")
	}
	p, _, err := photo.Read(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, print := range [][]byte{p.Large, p.Small} {
		for _, secret := range []string{"PLACE-53", "Exif", "2026:11:20", "polyglot", "PK\x03\x04"} {
			if bytes.Contains(print, []byte(secret)) {
				t.Errorf("a print still holds %q", secret)
			}
		}
	}
	if p.Width != 300 || p.Height != 200 {
		t.Errorf("a small picture was made %d × %d", p.Width, p.Height)
	}
}

// A mean keeps what a picker of single pixels would lose: a fine pattern of
// black and white becomes grey.
func TestShrinkingTakesTheMean(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 4000, 3000))
	for i := range m.Pix {
		if (i%4000+i/4000)%2 == 0 {
			m.Pix[i] = 255
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	p, _, err := photo.Read(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	got := open(t, p.Large)
	for _, at := range []image.Point{{3, 3}, {800, 600}, {1590, 1190}} {
		if y := color.GrayModel.Convert(got.At(at.X, at.Y)).(color.Gray).Y; y < 112 || y > 143 {
			t.Errorf("at %v the grey is %d, want some 127", at, y)
		}
	}
}

func TestTransparentIsWhite(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 64, 64))
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	p, _, err := photo.Read(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if !near(open(t, p.Large).At(32, 32), color.White) {
		t.Error("what is transparent is not white")
	}
}

// pngHeader is a picture that says how large it is and holds next to nothing.
func pngHeader(w, h uint32) []byte {
	chunk := func(name string, data []byte) []byte {
		body := append([]byte(name), data...)
		out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		return binary.BigEndian.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	out := append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, 8, 2, 0, 0, 0))...)
	return append(out, chunk("IEND", nil)...)
}

func TestHostilePictures(t *testing.T) {
	whole := asJPEG(t, corners(800, 600))
	passes := append([]byte{}, whole[:len(whole)-2]...)
	for range 200 {
		passes = append(passes, 0xff, 0xda, 0x00, 0x02)
	}
	for name, c := range map[string]struct {
		file []byte
		kind fault.Kind
		says string
	}{
		"huge":             {pngHeader(30000, 30000), fault.TooLarge, "900 million"},
		"huge one way":     {pngHeader(2_000_000_000, 1), fault.TooLarge, "million"},
		"no size":          {pngHeader(0, 10), fault.Invalid, "broken"},
		"only a header":    {pngHeader(100, 100), fault.Invalid, "broken"},
		"cut short":        {whole[:len(whole)/2], fault.Invalid, "broken"},
		"only a beginning": {whole[:12], fault.Invalid, "broken"},
		"page named .jpg":  {[]byte("<!DOCTYPE html><script>alert(1)</script>"), fault.Invalid, "no picture"},
		"drawing":          {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>`), fault.Invalid, "no picture"},
		"nothing":          {nil, fault.Invalid, "empty"},
		"too heavy":        {append(append([]byte{}, whole...), make([]byte, photo.MaxBytes)...), fault.TooLarge, "12 MB"},
		"GIF":              {[]byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"), fault.Invalid, "GIF"},
		"HEIC":             {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), fault.Invalid, "HEIC"},
		"WebP":             {[]byte("RIFF\x00\x00\x00\x00WEBPVP8 "), fault.Invalid, "WebP"},
		"endless passes":   {passes, fault.Invalid, "broken"},
	} {
		_, _, err := photo.Read(c.file)
		if f := fault.Of(err); f == nil || f.Kind != c.kind || !strings.Contains(f.Msg, c.says) {
			t.Errorf("%s: %v, want %v with %q", name, err, c.kind, c.says)
		}
	}
}

// Notes that lie about themselves must not lead outside the file.
func TestNotesThatLie(t *testing.T) {
	whole := noted(asJPEG(t, corners(64, 64)), 6)
	for i := 4; i < 130; i++ {
		for _, b := range []byte{0, 0x7f, 0xff} {
			file := bytes.Clone(whole)
			file[i] = b
			_, _, _ = photo.Read(file) // any answer will do, a panic will not
		}
	}
}

func BenchmarkRead12Megapixels(b *testing.B) {
	m := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	for i := range m.Pix {
		m.Pix[i] = uint8(i * 7 / 5)
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, m, nil); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := photo.Read(file.Bytes()); err != nil {
			b.Fatal(err)
		}
	}
}
