// Package picture makes a shop's pictures fit for its pages: a photograph from
// a telephone is turned upright and scaled to the sizes that pages need, and
// everything in it that is no picture (the place, the camera, the time, the
// small picture inside) is left out. What only claims to be a picture is
// refused, and so is a drawing that runs scripts or reaches outside.
package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"path"
	"strings"

	"golang.org/x/image/draw"
	"golang.org/x/image/webp"
)

// Problem is why a picture cannot be shown.
type Problem struct {
	Line     int // of a drawing; 0 for the whole file
	Says, Do string
}

func (p *Problem) Error() string { return p.Says }

// Picture is a picture of the shop.
type Picture struct {
	Width, Height int // upright, in pixels; 0 for a drawing that does not say
	format        string
	turn          int // the orientation of Exif, 1 to 8
	bytes         int // of the file as it was brought in
}

const (
	widest    = 1600        // pixels across that a page can use, also on a fine screen
	mostPixel = 120_000_000 // of a picture that is taken apart
	mostOpen  = 512 << 20   // bytes that one may take meanwhile
	quality   = 82          // of a JPEG that is made anew
)

// steps are the smaller widths that are made, for narrow screens.
var steps = []int{480, 960}

// magic is how the files of each kind begin (RFC 2083, ISO/IEC 10918-1, RFC 9649).
var magic = []struct{ format, begins string }{
	{"png", "\x89PNG\r\n\x1a\n"},
	{"jpeg", "\xff\xd8\xff"},
	{"webp", "RIFF"},
}

// formats by the ending of a name.
var formats = map[string]string{".svg": "svg", ".png": "png", ".jpg": "jpeg", ".jpeg": "jpeg", ".webp": "webp"}

// Look looks at a file without taking the picture apart. The error is a
// *Problem.
func Look(name string, b []byte) (Picture, error) {
	p := Picture{format: formats[path.Ext(name)], turn: 1, bytes: len(b)}
	switch p.format {
	case "":
		return p, &Problem{Says: "this is no picture that a page can show", Do: "use svg, png, jpg or webp"}
	case "svg":
		w, h, err := drawing(b)
		p.Width, p.Height = w, h
		return p, err
	}
	is := ""
	for _, m := range magic {
		if bytes.HasPrefix(b, []byte(m.begins)) && (m.format != "webp" || len(b) > 12 && string(b[8:12]) == "WEBP") {
			is = m.format
		}
	}
	if is != p.format {
		do := "save it anew as what its name says"
		if is != "" {
			do = "give it the ending ." + strings.Replace(is, "jpeg", "jpg", 1)
		}
		return p, &Problem{Says: "the file does not hold what its name says", Do: do}
	}
	var c image.Config
	var err error
	switch p.format {
	case "png":
		c, err = png.DecodeConfig(bytes.NewReader(b))
	case "jpeg":
		c, err = jpeg.DecodeConfig(bytes.NewReader(b))
	case "webp":
		c, err = webp.DecodeConfig(bytes.NewReader(b))
	}
	if err != nil {
		return p, &Problem{Says: "the picture is damaged", Do: "save it anew"}
	}
	if int64(c.Width)*int64(c.Height) > mostPixel || opened(p.format, c, b) > mostOpen {
		return p, &Problem{Says: fmt.Sprintf("the picture has %d by %d pixels", c.Width, c.Height), Do: "make it smaller"}
	}
	p.Width, p.Height, p.turn = c.Width, c.Height, orientation(exif(p.format, b))
	if p.turn >= 5 {
		p.Width, p.Height = p.Height, p.Width
	}
	if p.format == "webp" && p.turn != 1 {
		return p, &Problem{Says: "the picture lies on its side and only a mark in it says so", Do: "save it upright, or as jpg"}
	}
	return p, nil
}

// opened is about how many bytes a picture takes while it is taken apart: what Go's own readers
// make of it.
func opened(format string, c image.Config, b []byte) int64 {
	pixels := int64(c.Width) * int64(c.Height)
	switch format {
	case "jpeg":
		each := int64(3)
		if c.ColorModel == color.CMYKModel {
			each = 4
		}
		_ = segments(b, func(marker byte, _, _ []byte) {
			if marker == 0xc2 { // a progressive one is held whole, four bytes a number, before it becomes pixels
				each *= 5
			}
		})
		return each * pixels
	case "png":
		switch c.ColorModel {
		case color.NRGBA64Model, color.RGBA64Model:
			return 8 * pixels
		}
		return 4 * pixels
	}
	return 0 // a webp is not taken apart
}

// scaled says whether sizes are made of the picture: of photographs, not of
// drawings, and not of webp, which cannot be written here.
func (p Picture) scaled() bool { return p.format == "jpeg" || p.format == "png" }

// Shown are the pixels of the largest version.
func (p Picture) Shown() (width, height int) {
	if p.scaled() && p.Width > widest {
		return widest, max(1, (p.Height*widest+p.Width/2)/p.Width)
	}
	return p.Width, p.Height
}

// Weight is about how many bytes its largest version has on the site: what a picture
// loses in pixels it loses in bytes.
func (p Picture) Weight() int {
	w, _ := p.Shown()
	if p.Width <= 0 || w >= p.Width {
		return p.bytes
	}
	share := float64(w) / float64(p.Width)
	return int(float64(p.bytes) * share * share)
}

// Version is one size of a picture.
type Version struct {
	Name  string // beside the picture's own: "drill.480w.jpg"
	Width int
}

// Versions lists the sizes of the picture name, the smallest first; the last one
// bears the name itself. A single one is listed for what is not scaled.
func (p Picture) Versions(name string) []Version {
	w, _ := p.Shown()
	own := Version{name, w}
	if !p.scaled() {
		return []Version{own}
	}
	var list []Version
	for _, step := range steps {
		if step*5 < w*4 { // not for a few pixels
			ext := path.Ext(name)
			list = append(list, Version{fmt.Sprintf("%s.%dw%s", strings.TrimSuffix(name, ext), step, ext), step})
		}
	}
	return append(list, own)
}

// Files makes the versions of a picture that Look found good: name to content.
func (p Picture) Files(name string, b []byte) (map[string][]byte, error) {
	versions := p.Versions(name)
	if p.turn == 1 && len(versions) == 1 && p.Width <= widest || !p.scaled() {
		bare, err := strip(p.format, b)
		return map[string][]byte{name: bare}, err
	}
	var img image.Image
	var err error
	if p.format == "png" {
		img, err = png.Decode(bytes.NewReader(b))
	} else {
		img, err = jpeg.Decode(bytes.NewReader(b))
	}
	if err != nil {
		return nil, &Problem{Says: "the picture is damaged", Do: "save it anew"}
	}
	files := map[string][]byte{}
	for _, v := range versions {
		if v.Name == name && p.turn == 1 && p.Width <= widest { // as it was made, without loss
			if files[name], err = strip(p.format, b); err != nil {
				return nil, err
			}
			continue
		}
		var out bytes.Buffer
		small := upright(scale(img, p, v.Width), p.turn)
		if p.format == "png" {
			err = png.Encode(&out, small)
		} else {
			err = jpeg.Encode(&out, small, &jpeg.Options{Quality: quality})
		}
		if err != nil {
			return nil, err
		}
		files[v.Name] = out.Bytes()
	}
	return files, nil
}

// scale makes an image so that it is width across once it stands upright.
func scale(img image.Image, p Picture, width int) *image.RGBA {
	height := max(1, (p.Height*width+p.Width/2)/p.Width)
	if p.turn >= 5 {
		width, height = height, width
	}
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.CatmullRom.Scale(out, out.Bounds(), img, img.Bounds(), draw.Src, nil)
	return out
}

// upright turns an image by its Exif orientation (Exif 2.32, 4.6.4 A): 1 is
// upright, 3 upside down, 6 and 8 lie on a side, the others are mirrored too.
func upright(in *image.RGBA, turn int) image.Image {
	if turn <= 1 || turn > 8 {
		return in
	}
	w, h := in.Rect.Dx(), in.Rect.Dy()
	ow, oh := w, h
	if turn >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range h {
		for x := range w {
			var to image.Point
			switch turn {
			case 2:
				to = image.Pt(w-1-x, y)
			case 3:
				to = image.Pt(w-1-x, h-1-y)
			case 4:
				to = image.Pt(x, h-1-y)
			case 5:
				to = image.Pt(y, x)
			case 6:
				to = image.Pt(h-1-y, x)
			case 7:
				to = image.Pt(h-1-y, w-1-x)
			case 8:
				to = image.Pt(y, w-1-x)
			}
			copy(out.Pix[out.PixOffset(to.X, to.Y):][:4], in.Pix[in.PixOffset(x, y):][:4])
		}
	}
	return out
}
