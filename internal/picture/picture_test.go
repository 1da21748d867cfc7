package picture

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/crc32"
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

// bomb is a drawing whose parts use one another, so many times each.
func bomb(parts, times int) string {
	var b strings.Builder
	b.WriteString("<svg xmlns='http://www.w3.org/2000/svg'><g id='p0'><rect/></g>")
	for i := 1; i <= parts; i++ {
		fmt.Fprintf(&b, "<g id='p%d'>%s</g>", i, strings.Repeat(fmt.Sprintf("<use href='#p%d'/>", i-1), times))
	}
	return b.String() + "</svg>"
}

// Counting what a drawing repeats ends, also where parts use each other in a ring or lie deep
// inside one another; what people draw is let through.
func TestCopies(t *testing.T) {
	for name, text := range map[string]string{
		"a ring": "<svg><g id='a'><use href='#b'/></g><g id='b'><use href='#a'/></g></svg>", "itself": "<svg id='a'><use href='#a'/></svg>",
		"nothing": "<svg><use href='#nothing'/><use/></svg>", "twice the same id": "<svg><g id='a'/><g id='a'><use href='#a'/></g></svg>",
		"deep": "<svg>" + strings.Repeat("<g id='a'>", 100_000) + strings.Repeat("</g>", 100_000) + "</svg>", "some": bomb(3, 10),
	} {
		if _, err := Look("a.svg", []byte(text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A picture that would fill the memory while it is taken apart is refused before that, by its
// header alone.
func TestPictureBombs(t *testing.T) {
	png := func(w, h uint32, depth, colour byte) []byte {
		head := binary.BigEndian.AppendUint32(nil, w)
		head = append(binary.BigEndian.AppendUint32(head, h), depth, colour, 0, 0, 0)
		b := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), head...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(append([]byte("IHDR"), head...)))
	}
	jpeg := func(frame byte, w, h uint16) []byte {
		b := []byte{0xff, 0xd8, 0xff, frame, 0, 17, 8, byte(h >> 8), byte(h), byte(w >> 8), byte(w), 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0}
		return append(b, 0xff, 0xda, 0, 12, 3, 1, 0, 2, 0, 3, 0, 0, 63, 0, 0xff, 0xd9)
	}
	for _, c := range []struct {
		name, file string
		b          []byte
		fine       bool
	}{
		{"a wall", "a.png", png(65536, 65536, 8, 2), false},
		{"as large as may be", "a.png", png(1<<31-1, 1<<31-1, 8, 2), false},
		{"deep colours", "a.png", png(10000, 10000, 16, 6), false},
		{"a large scan", "a.png", png(10000, 10000, 8, 2), true},
		{"a telephone's", "a.jpg", jpeg(0xc0, 12000, 9000), true},
		{"a progressive one", "a.jpg", jpeg(0xc2, 12000, 9000), false},
		{"a usual progressive one", "a.jpg", jpeg(0xc2, 6000, 4000), true},
	} {
		if _, err := Look(c.file, c.b); (err == nil) != c.fine {
			t.Errorf("%s: %v", c.name, err)
		}
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
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style><g/>@import 'x.css';</style></svg>", 1, "@import"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style>@im<!-- -->port 'x.css';</style></svg>", 1, "@import"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style>@im<![CDATA[port 'x.css']]>;</style></svg>", 1, "@import"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style>rect{fill:ur<?xml ?>l(//a.example/x)}</style></svg>", 1, "outside"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><style><style>a</style>@import 'x.css';</style></svg>", 1, "@import"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg' style=\"background:image-set('http://a.example/x' 1x)\"/>", 1, "image-set"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg' xmlns:h='http://www.w3.org/1999/xhtml'><h:img srcset='http://a.example/x 1x'/></svg>", 1, "no drawing"},
		{"a.svg", "<svg xmlns='http://www.w3.org/2000/svg'><a href='#b' ping='http://a.example/x'/></svg>", 1, "reaches outside"},
		{"a.svg", bomb(6, 10), 1, "repeats parts of itself"},
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

// What is let through as a drawing reads the same to another reader, and holds nothing that
// runs or reaches outside.
func FuzzDrawing(f *testing.F) {
	names, _ := filepath.Glob("../../content/images/*.svg")
	for _, name := range names[:min(len(names), 5)] {
		b, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Add([]byte("<svg xmlns='http://www.w3.org/2000/svg' xmlns:x='http://www.w3.org/1999/xlink'><style>.b{fill:url(#a)}</style><use x:href='#a'/></svg>"))
	f.Add([]byte(bomb(3, 3)))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := Look("a.svg", b)
		if err != nil {
			return
		}
		if p.Width < 0 || p.Height < 0 || p.Width > 1e5 || p.Height > 1e5 {
			t.Fatalf("%d by %d", p.Width, p.Height)
		}
		var tree struct {
			XMLName xml.Name
			Script  []struct{} `xml:"script"`
			Style   string     `xml:"style"`
		}
		if err := xml.Unmarshal(b, &tree); err != nil {
			return
		}
		if len(tree.Script) > 0 || strings.Contains(strings.ToLower(tree.Style), "@import") {
			t.Fatalf("%q is let through", b)
		}
	})
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
