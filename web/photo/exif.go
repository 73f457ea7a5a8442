package photo

import (
	"bytes"
	"encoding/binary"
)

// exif is the little that is read of what a camera noted. All of it, places
// above all, is left behind.
type exif struct {
	orientation int
	wall        string // by the camera's clock, as Layout
}

// The tags that are read (Exif 2.32).
const (
	tagOrientation = 0x0112
	tagDetails     = 0x8769 // where the second list stands
	tagTaken       = 0x9003 // DateTimeOriginal
)

// exifOf reads the notes of a JPEG or PNG file; what cannot be read is not there.
func exifOf(file []byte) exif {
	if bytes.HasPrefix(file, []byte("\x89PNG")) {
		return readExif(pngChunk(file, "eXIf"))
	}
	return readExif(jpegExif(file))
}

// jpegExif is the first segment that holds such notes.
func jpegExif(file []byte) []byte {
	for at := 2; at+4 <= len(file) && file[at] == 0xff; {
		marker, size := file[at+1], int(binary.BigEndian.Uint16(file[at+2:]))
		if marker == 0xda || size < 2 || at+2+size > len(file) {
			return nil
		}
		segment := file[at+4 : at+2+size]
		if rest, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); ok && marker == 0xe1 {
			return rest
		}
		at += 2 + size
	}
	return nil
}

func pngChunk(file []byte, name string) []byte {
	for at := 8; at+8 <= len(file); {
		size := int64(binary.BigEndian.Uint32(file[at:]))
		end := int64(at) + 8 + size
		if end > int64(len(file)) {
			return nil
		}
		if string(file[at+4:at+8]) == name {
			return file[at+8 : end]
		}
		at = int(end) + 4
	}
	return nil
}

// readExif reads the two lists of a TIFF block.
func readExif(block []byte) (e exif) {
	if len(block) < 8 {
		return e
	}
	var order binary.ByteOrder = binary.LittleEndian
	if block[0] == 'M' {
		order = binary.BigEndian
	}
	details := uint32(0)
	eachTag(block, order, order.Uint32(block[4:]), func(tag uint16, entry []byte) {
		switch tag {
		case tagOrientation:
			e.orientation = int(order.Uint16(entry[8:]))
		case tagDetails:
			details = order.Uint32(entry[8:])
		}
	})
	if details == 0 {
		return e
	}
	eachTag(block, order, details, func(tag uint16, entry []byte) {
		if tag != tagTaken {
			return
		}
		at := int64(order.Uint32(entry[8:]))
		if at+int64(len(Layout)) <= int64(len(block)) {
			e.wall = string(block[at : at+int64(len(Layout))])
		}
	})
	return e
}

// eachTag walks one list. An entry has twelve bytes: tag, type, count, value.
func eachTag(block []byte, order binary.ByteOrder, at uint32, fn func(tag uint16, entry []byte)) {
	start := int64(at)
	if start+2 > int64(len(block)) {
		return
	}
	n := int64(order.Uint16(block[start:]))
	for i := range n {
		from := start + 2 + 12*i
		if from+12 > int64(len(block)) {
			return
		}
		entry := block[from : from+12]
		fn(order.Uint16(entry), entry)
	}
}
