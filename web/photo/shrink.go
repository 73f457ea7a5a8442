package photo

import (
	"image"
	"image/color"
	"image/draw"
)

// stripRows is how many rows are turned into plain colours at once, so that no
// second copy of a large picture is needed.
const stripRows = 16

// shrink draws a picture so that its longer edge has at most so many pixels, on
// white where it is transparent. Each pixel is the mean of the area that it
// covers. A smaller picture keeps its size.
func shrink(src image.Image, edge int) *image.RGBA {
	from := src.Bounds()
	w, h := fit(from.Dx(), from.Dy(), edge)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	across := spansOf(from.Dx(), w)
	down := spansOf(from.Dy(), h)
	strip := image.NewRGBA(image.Rect(0, 0, from.Dx(), min(stripRows, from.Dy())))
	stripAt := -1
	row := make([]float32, 3*w)
	sum := make([]float32, 3*w)
	for y, d := range down {
		clear(sum)
		for sy := d.first; sy <= d.last; sy++ {
			if at := sy / stripRows; at != stripAt {
				plain(strip, src, at*stripRows)
				stripAt = at
			}
			line := strip.Pix[(sy%stripRows)*strip.Stride:]
			meanRow(row, line, across)
			weight := d.weight(sy)
			for i, v := range row {
				sum[i] += v * weight
			}
		}
		pix := out.Pix[y*out.Stride:]
		for x := range w {
			pix[4*x], pix[4*x+1], pix[4*x+2], pix[4*x+3] = level(sum[3*x]), level(sum[3*x+1]), level(sum[3*x+2]), 0xff
		}
	}
	return out
}

// plain draws the rows of a picture from y on into the strip, over white.
func plain(strip *image.RGBA, src image.Image, y int) {
	op := draw.Src
	if o, is := src.(interface{ Opaque() bool }); !is || !o.Opaque() {
		draw.Draw(strip, strip.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
		op = draw.Over
	}
	from := src.Bounds().Min
	draw.Draw(strip, strip.Rect, src, image.Pt(from.X, from.Y+y), op)
}

// meanRow takes the mean of a row's pixels in each span.
func meanRow(row []float32, line []uint8, across []span) {
	for x, a := range across {
		p := line[4*a.first:]
		r, g, b := float32(p[0])*a.begin, float32(p[1])*a.begin, float32(p[2])*a.begin
		if a.last > a.first {
			var mr, mg, mb uint32
			for sx := a.first + 1; sx < a.last; sx++ {
				m := line[4*sx : 4*sx+3 : 4*sx+3]
				mr, mg, mb = mr+uint32(m[0]), mg+uint32(m[1]), mb+uint32(m[2])
			}
			p = line[4*a.last:]
			r += float32(mr)*a.mid + float32(p[0])*a.end
			g += float32(mg)*a.mid + float32(p[1])*a.end
			b += float32(mb)*a.mid + float32(p[2])*a.end
		}
		row[3*x], row[3*x+1], row[3*x+2] = r, g, b
	}
}

func level(v float32) uint8 { return uint8(min(max(v+0.5, 0), 255)) }

func fit(w, h, edge int) (int, int) {
	long := max(w, h)
	if long <= edge {
		return w, h
	}
	return max(1, (w*edge+long/2)/long), max(1, (h*edge+long/2)/long)
}

// A span is the pixels of one line that fall into one of the smaller picture.
// The first and the last belong to it in part; all weights together are 1.
type span struct {
	first, last     int
	begin, mid, end float32
}

func (s span) weight(i int) float32 {
	switch i {
	case s.first:
		return s.begin
	case s.last:
		return s.end
	}
	return s.mid
}

func spansOf(from, to int) []span {
	out := make([]span, to)
	ratio := float64(from) / float64(to)
	for i := range out {
		lo, hi := float64(i)*ratio, float64(i+1)*ratio
		first := min(int(lo), from-1)
		last := min(int(hi), from-1)
		if float64(last) >= hi && last > first {
			last--
		}
		s := span{first: first, last: last, mid: float32(1 / ratio)}
		if first == last {
			s.begin = 1
		} else {
			s.begin = float32((float64(first+1) - lo) / ratio)
			s.end = float32((hi - float64(last)) / ratio)
		}
		out[i] = s
	}
	return out
}

// upright turns a picture as its Exif orientation asks for (Exif 2.32, tag
// 0x0112): 2 to 4 mirrored or upside down, 5 to 8 lying on their side.
func upright(m *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return m
	}
	w, h := m.Rect.Dx(), m.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			var tx, ty int
			switch orientation {
			case 2:
				tx, ty = w-1-x, y
			case 3:
				tx, ty = w-1-x, h-1-y
			case 4:
				tx, ty = x, h-1-y
			case 5:
				tx, ty = y, x
			case 6:
				tx, ty = h-1-y, x
			case 7:
				tx, ty = h-1-y, w-1-x
			case 8:
				tx, ty = y, w-1-x
			}
			copy(out.Pix[out.PixOffset(tx, ty):][:4], m.Pix[m.PixOffset(x, y):][:4])
		}
	}
	return out
}
