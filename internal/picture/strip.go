package picture

import (
	"bytes"
	"encoding/binary"
)

var damaged = &Problem{Says: "the picture is damaged", Do: "save it anew"}

// strip leaves out of a file what is no picture; the picture itself is copied
// byte for byte.
func strip(format string, b []byte) ([]byte, error) {
	switch format {
	case "jpeg":
		return stripJPEG(b)
	case "png":
		return stripPNG(b)
	case "webp":
		return stripWebP(b)
	}
	return b, nil
}

// exif finds the Exif block of a file, from its TIFF header on; nil if there is
// none.
func exif(format string, b []byte) (found []byte) {
	switch format {
	case "jpeg":
		_ = segments(b, func(marker byte, whole, data []byte) {
			if rest, ok := bytes.CutPrefix(data, []byte("Exif\x00\x00")); ok && marker == 0xe1 && found == nil {
				found = rest
			}
		})
	case "png":
		_ = chunks(b, func(kind string, whole, data []byte) {
			if kind == "eXIf" {
				found = data
			}
		})
	case "webp":
		_ = riff(b, func(kind string, whole, data []byte) {
			if kind == "EXIF" {
				found = bytes.TrimPrefix(data, []byte("Exif\x00\x00"))
			}
		})
	}
	return found
}

// orientation reads tag 274 of the first directory of a TIFF block (TIFF 6.0);
// 1, upright, where it does not say.
func orientation(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	if string(b[:2]) == "MM" {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(b[4:]))
	if at < 8 || at+2 > int64(len(b)) {
		return 1
	}
	entries := b[at+2:]
	for range order.Uint16(b[at:]) {
		if len(entries) < 12 {
			return 1
		}
		if order.Uint16(entries) == 274 && order.Uint16(entries[2:]) == 3 {
			if v := int(order.Uint16(entries[8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}

// segments calls f for each segment of a JPEG up to its end (ISO/IEC 10918-1,
// annex B): whole is the segment with its marker, data what it carries. What
// follows a scan's header up to the next marker comes as marker 0.
func segments(b []byte, f func(marker byte, whole, data []byte)) error {
	if len(b) < 2 || b[0] != 0xff || b[1] != 0xd8 {
		return damaged
	}
	f(0xd8, b[:2], nil)
	for b = b[2:]; len(b) >= 2; {
		if b[0] != 0xff {
			return damaged
		}
		marker := b[1]
		switch {
		case marker == 0xff: // filling
			b = b[1:]
			continue
		case marker == 0xd9:
			f(marker, b[:2], nil)
			return nil
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd8:
			f(marker, b[:2], nil)
			b = b[2:]
			continue
		}
		if len(b) < 4 {
			return damaged
		}
		n := 2 + int(binary.BigEndian.Uint16(b[2:]))
		if n < 4 || n > len(b) {
			return damaged
		}
		f(marker, b[:n], b[4:n])
		b = b[n:]
		if marker != 0xda {
			continue
		}
		end := 0
		for end+1 < len(b) && !(b[end] == 0xff && b[end+1] != 0 && (b[end+1] < 0xd0 || b[end+1] > 0xd7)) {
			end++
		}
		f(0, b[:end], nil)
		b = b[end:]
	}
	return damaged
}

// stripJPEG keeps what a decoder needs, and Adobe's mark of the colours.
func stripJPEG(b []byte) ([]byte, error) {
	var out bytes.Buffer
	err := segments(b, func(marker byte, whole, data []byte) {
		application := marker >= 0xe0 && marker <= 0xef
		if application && !(marker == 0xee && bytes.HasPrefix(data, []byte("Adobe"))) || marker == 0xfe {
			return
		}
		out.Write(whole)
	})
	return out.Bytes(), err
}

// chunks calls f for each chunk of a PNG up to its end.
func chunks(b []byte, f func(kind string, whole, data []byte)) error {
	for b = b[min(8, len(b)):]; len(b) >= 12; {
		n := int64(binary.BigEndian.Uint32(b))
		if n+12 > int64(len(b)) {
			return damaged
		}
		kind := string(b[4:8])
		f(kind, b[:n+12], b[8:n+8])
		if kind == "IEND" {
			return nil
		}
		b = b[n+12:]
	}
	return damaged
}

// needed are the chunks of a PNG that make the picture.
var needed = map[string]bool{"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true, "gAMA": true, "sRGB": true, "cHRM": true,
	"acTL": true, "fcTL": true, "fdAT": true}

func stripPNG(b []byte) ([]byte, error) {
	out := bytes.NewBufferString(magic[0].begins)
	err := chunks(b, func(kind string, whole, data []byte) {
		if needed[kind] {
			out.Write(whole)
		}
	})
	return out.Bytes(), err
}

// riff calls f for each chunk of a WebP file (RFC 9649, 2.3).
func riff(b []byte, f func(kind string, whole, data []byte)) error {
	if len(b) < 12 {
		return damaged
	}
	for b = b[12:]; len(b) >= 8; {
		n := int64(binary.LittleEndian.Uint32(b[4:]))
		if n+8 > int64(len(b)) {
			return damaged
		}
		end := min(n+8+n%2, int64(len(b)))
		f(string(b[:4]), b[:end], b[8:n+8])
		b = b[end:]
	}
	return nil
}

func stripWebP(b []byte) ([]byte, error) {
	var body bytes.Buffer
	err := riff(b, func(kind string, whole, data []byte) {
		switch kind {
		case "VP8X":
			own := bytes.Clone(whole)
			if len(own) > 8 {
				own[8] &^= 0x20 | 0x08 | 0x04 // no colour profile, no Exif, no XMP
			}
			body.Write(own)
		case "VP8 ", "VP8L", "ALPH", "ANIM", "ANMF":
			body.Write(whole)
			if len(whole)%2 == 1 {
				body.WriteByte(0)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	out := []byte("RIFF\x00\x00\x00\x00WEBP")
	binary.LittleEndian.PutUint32(out[4:], uint32(4+body.Len()))
	return append(out, body.Bytes()...), nil
}
