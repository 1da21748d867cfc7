package picture

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func read(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// told is what the files in testdata tell besides the picture; the Exif, XMP,
// IPTC and comment blocks were written by ExifTool 12.
var told = []string{"Somebody", "Sometown", "SN4711", "Telephone", "taken at home", "Exif", "http://ns.adobe.com", "MotionPhoto", "Photoshop", "xmp", "eXIf", "EXIF"}

// Nothing but the picture is left of a photograph: no place, no name, no small
// picture inside, nothing behind its end; and it stands upright.
func TestNothingButThePicture(t *testing.T) {
	for _, name := range []string{"side.jpg", "told.png", "told.webp"} {
		t.Run(name, func(t *testing.T) {
			b := read(t, name)
			if !bytes.Contains(b, []byte("Somebody")) {
				t.Fatal("the file tells nothing to begin with")
			}
			p, err := Look(name, b)
			if err != nil {
				t.Fatal(err)
			}
			files, err := p.Files(name, b)
			if err != nil || len(files) != 1 {
				t.Fatal(len(files), err)
			}
			for _, word := range told {
				if bytes.Contains(files[name], []byte(word)) {
					t.Errorf("it still tells %s", word)
				}
			}
			again, err := Look(name, files[name])
			if err != nil || again.Width != p.Width || again.Height != p.Height || again.turn != 1 {
				t.Errorf("%+v became %+v (%v)", p, again, err)
			}
		})
	}
}

// The photograph lies on its side: red is on the left of the file, so at the top
// of the picture (orientation 6: turn a quarter to the right).
func TestUpright(t *testing.T) {
	b := read(t, "side.jpg")
	p, _ := Look("side.jpg", b)
	if p.Width != 32 || p.Height != 64 {
		t.Fatalf("%+v", p)
	}
	files, err := p.Files("side.jpg", b)
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(files["side.jpg"]))
	if err != nil {
		t.Fatal(err)
	}
	red, _, blue, _ := img.At(24, 10).RGBA()
	if red < blue {
		t.Error("the top is not red")
	}
	if red, _, blue, _ = img.At(24, 54).RGBA(); red > blue {
		t.Error("the bottom is not blue")
	}
	_, light, _, _ := img.At(8, 10).RGBA()
	if _, dark, _, _ := img.At(24, 10).RGBA(); light < dark {
		t.Error("left and right are exchanged")
	}
}

// All eight orientations bring the corner marked in the file to where Exif says
// that it is seen.
func TestOrientations(t *testing.T) {
	in := image.NewRGBA(image.Rect(0, 0, 3, 2))
	in.Pix[3] = 255 // the corner at the top left of the file
	for turn, want := range map[int]image.Point{1: {0, 0}, 2: {2, 0}, 3: {2, 1}, 4: {0, 1}, 5: {0, 0}, 6: {1, 0}, 7: {1, 2}, 8: {0, 2}} {
		out := upright(in, turn).(*image.RGBA)
		if out.RGBAAt(want.X, want.Y).A != 255 {
			t.Errorf("orientation %d does not bring the corner to %v", turn, want)
		}
	}
}

func TestSizes(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewRGBA(image.Rect(0, 0, 2400, 1200)), nil); err != nil {
		t.Fatal(err)
	}
	p, err := Look("a/drill.jpg", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if w, h := p.Shown(); w != 1600 || h != 800 {
		t.Errorf("shown %d by %d", w, h)
	}
	files, err := p.Files("a/drill.jpg", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	for name, width := range map[string]int{"a/drill.480w.jpg": 480, "a/drill.960w.jpg": 960, "a/drill.jpg": 1600} {
		c, err := jpeg.DecodeConfig(bytes.NewReader(files[name]))
		if err != nil || c.Width != width || c.Height != width/2 {
			t.Errorf("%s: %d by %d, %v", name, c.Width, c.Height, err)
		}
	}
	if len(files) != 3 {
		t.Errorf("%d files", len(files))
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       int
		says       string
	}{
		{"a.gif", "GIF89a", 0, "no picture that a page can show"},
		{"a.png", string(read(t, "lies.png")), 0, "does not hold what its name says"},
		{"a.jpg", "<svg xmlns='http://www.w3.org/2000/svg'/>", 0, "does not hold what its name says"},
		{"a.jpg", "\xff\xd8\xff\xe0", 0, "damaged"},
		{"a.png", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x01\x00\x00\x00\x01\x00\x00\x08\x02\x00\x00\x00\x96\x0b\x24\x1d", 0, "the picture"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'>\n<script>1</script></svg>", 2, "holds <script>"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'>\n\n<g\n onclick='x'/></svg>", 4, "runs something by “onclick”"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg' onload='x'/>", 1, "onload"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><image href='http://a.example/x.png'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg' xmlns:x='http://www.w3.org/1999/xlink'><use x:href='other.svg#a'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><a href='javascript:x'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><image href='data:text/html,x'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><rect style='fill:url( \"//a.example/x\" )'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><rect fill='url(http://a.example/x)'/></svg>", 1, "reaches outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'>\n<style>@import 'x.css';</style></svg>", 2, "@import"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style>rect{fill:u\\72l(x)}</style></svg>", 1, `“\”`},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><set attributeName='href' to='x'/></svg>", 1, "changes where it leads"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><foreignObject/></svg>", 1, "foreignObject"},
		{"a.svg", "<?xml version='1.0'?>\n<?xml-stylesheet href='x'?><svg/>", 2, "asks for another file"},
		{"a.svg", "<!DOCTYPE svg [<!ENTITY a 'b'>]><svg>&a;</svg>", 1, "document type"},
		{"a.svg", "<svg><g></svg>", 1, "damaged"},
		{"a.svg", "<html/>", 1, "this is no drawing"},
		{"a.svg", "", 1, "this is no drawing"},
	} {
		_, err := Look(c.name, []byte(c.text))
		var p *Problem
		if !errors.As(err, &p) || !strings.Contains(p.Says, c.says) || p.Line != c.line {
			t.Errorf("%.60q: %+v, not line %d “%s”", c.text, err, c.line, c.says)
		}
	}
}

// The starter's drawings are fit, and so is what a drawing program writes.
func TestDrawings(t *testing.T) {
	names, _ := filepath.Glob("../../content/images/*.svg")
	if len(names) == 0 {
		t.Fatal("the starter has no drawings")
	}
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if p, err := Look(name, b); err != nil || p.Width == 0 {
			t.Errorf("%s: %+v %v", name, p, err)
		}
	}
	usual := "<?xml version='1.0' encoding='UTF-8'?><svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 90 40'><defs><linearGradient id='a'/></defs>" +
		"<style>.b{fill:url(#a)}</style><g style='stroke-width:.2'><use href='#a'/><title>A cord</title></g></svg>"
	if p, err := Look("a.svg", []byte(usual)); err != nil || p.Width != 90 || p.Height != 40 {
		t.Errorf("%+v %v", p, err)
	}
}

func FuzzPicture(f *testing.F) {
	for _, name := range []string{"side.jpg", "told.png", "told.webp"} {
		f.Add(name, read(f, name))
	}
	f.Add("a.svg", []byte("<svg xmlns='http://www.w3.org/2000/svg'><g fill='url(#a)'/></svg>"))
	f.Fuzz(func(t *testing.T, name string, b []byte) {
		p, err := Look(name, b)
		if err != nil || p.Width*p.Height > 1<<20 {
			return
		}
		files, err := p.Files(name, b)
		if err != nil {
			return
		}
		for _, out := range files {
			if p.format == "jpeg" && bytes.Contains(out, []byte("Exif\x00\x00")) && exif("jpeg", out) != nil {
				t.Fatal("an Exif block is left")
			}
		}
	})
}
