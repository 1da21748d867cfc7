// Package site publishes the shop: it loads and checks the notes, computes
// every number, makes the index, renders all pages in memory, and only then
// writes what has changed. A mistake in a note stops it before anything is
// written, and the old site stays.
package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/all"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/draw/looks"
	"faultleaf/internal/core"
	"faultleaf/internal/host"
	"faultleaf/internal/note"
	"faultleaf/internal/press"
	"faultleaf/internal/published"
	"faultleaf/internal/site/blockpage"
	"faultleaf/internal/site/calcpage"
	"faultleaf/internal/site/checkpage"
	"faultleaf/internal/site/counterpage"
	"faultleaf/internal/site/coverpage"
	"faultleaf/internal/site/devicepage"
	"faultleaf/internal/site/faultpage"
	"faultleaf/internal/site/figurepage"
	"faultleaf/internal/site/findpage"
	"faultleaf/internal/site/jobpage"
	"faultleaf/internal/site/newpage"
	"faultleaf/internal/site/openpage"
	"faultleaf/internal/site/page"
	"faultleaf/internal/site/plainpage"
	"faultleaf/internal/site/sheetpage"
	"faultleaf/internal/site/startpage"
	"faultleaf/internal/site/unwrittenpage"
	"faultleaf/internal/site/writingpage"
	"faultleaf/search"
	"faultleaf/search/build"
	"faultleaf/templates"
)

// kinds is the one list of page kinds.
var kinds = []page.Kind{
	startpage.Kind,
	devicepage.Kind,
	sheetpage.Kind,
	openpage.Kind,
	faultpage.Kind,
	blockpage.Kind,
	unwrittenpage.Kind,
	checkpage.Kind,
	counterpage.Kind,
	counterpage.Job,
	jobpage.Kind,
	figurepage.Kind,
	coverpage.Kind,
	findpage.Kind,
	newpage.Kind,
	plainpage.Kind,
	writingpage.Kind,
	calcpage.Kind,
}

// Files are a finished site: path to content.
type Files map[string][]byte

// Pages makes all pages of a checked set, in the order of the kinds, and the
// documents for the search.
func Pages(set *note.Set) ([]page.Page, []search.Document, error) {
	shop := page.NewShop(set, all.At(set.Shop.Values()))
	var pages []page.Page
	var docs []search.Document
	var sheets []string
	for _, j := range set.Jobs {
		sheets = append(sheets, j.ID)
	}
	old := jobpage.Old(sheets)
	for _, k := range kinds {
		ps, err := whole(k, shop)
		if err != nil {
			return nil, nil, fmt.Errorf("the %s pages cannot be made: %w", k.Name, err)
		}
		for _, p := range ps {
			p.Kind = k.Name
			if p.Template != "" { // else it is only found, at a place on another page
				pages = append(pages, p)
			}
			if p.Found != nil && !old[p.Found.ID] {
				docs = append(docs, *p.Found)
			}
		}
	}
	return pages, docs, nil
}

// whole are all pages of a kind.
func whole(k page.Kind, s *page.Shop) ([]page.Page, error) {
	var out []page.Page
	if k.Of != nil {
		for _, d := range s.Devices {
			pages, err := k.Of(s, d)
			if err != nil {
				return nil, err
			}
			out = append(out, pages...)
		}
	}
	if k.Pages != nil {
		pages, err := k.Pages(s)
		if err != nil {
			return nil, err
		}
		out = append(out, pages...)
	}
	if k.Lists != nil {
		var rows [][]byte
		for _, d := range s.Devices {
			rows = append(rows, k.Row(s, d))
		}
		pages, err := k.Lists(s, rows)
		if err != nil {
			return nil, err
		}
		out = append(out, pages...)
	}
	return out, nil
}

// apart refuses a folder for the site that lies among the notes: the next
// reading of the notes would meet pages.
func apart(dir, to string) error {
	notes, err := real(filepath.Join(dir, "content"))
	if err != nil {
		return nil // there are none; reading them says so
	}
	site, err := real(to)
	if err != nil {
		return err
	}
	if in, err := filepath.Rel(notes, site); err == nil && filepath.IsLocal(in) {
		return fmt.Errorf("the site cannot be written to %s: that is among the notes; choose another folder with --to", to)
	}
	return nil
}

// real is where a path leads, links followed; of a folder that is not there
// yet, where it would be.
func real(p string) (string, error) {
	p, err := filepath.Abs(p)
	if err != nil {
		return "", err
	}
	at, err := filepath.EvalSymlinks(p)
	if err == nil || !errors.Is(err, fs.ErrNotExist) || filepath.Dir(p) == p {
		return at, err
	}
	up, err := real(filepath.Dir(p))
	return filepath.Join(up, filepath.Base(p)), err
}

// Make renders the whole site in memory. content holds the images.
func Make(set *note.Set, content fs.FS, binary core.Core) (Files, error) {
	pages, docs, err := Pages(set)
	if err != nil {
		return nil, err
	}
	files := Files{}
	t, err := page.Templates()
	if err != nil {
		return nil, err
	}
	from := map[string]string{} // the note that a page was made from
	for _, d := range set.Documents() {
		from[d.Address()] = d.File
		if d.Made != "" {
			from[d.Address()] = d.Made
		}
	}
	for _, p := range pages {
		b, err := frame(nil, t, p, around(set, p, from[p.Address]))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.Address, err)
		}
		if _, twice := files[p.Address]; twice {
			return nil, fmt.Errorf("two pages want the address %s", p.Address)
		}
		files[p.Address] = b
	}
	if err := pictures(files, set, content); err != nil {
		return nil, err
	}
	if err := style(files); err != nil {
		return nil, err
	}
	index, err := build.Write(docs, page.NewShop(set, nil).Speech(), nil)
	if err != nil {
		return nil, fmt.Errorf("the search index cannot be written: %w", err)
	}
	shop := page.NewShop(set, all.At(set.Shop.Values()))
	var kept [][]byte
	for _, d := range set.Devices {
		row, err := onBench(files, shop, d)
		if err != nil {
			return nil, err
		}
		kept = append(kept, row)
	}
	rows, err := page.Rows[counterpage.Row](kept)
	if err != nil {
		return nil, err
	}
	bench, err := counterpage.Bench(shop, rows)
	if err != nil {
		return nil, err
	}
	return files, run(files, index, binary, bench, set.Shop.Values(), func(p payload) (string, error) {
		b, err := p.read()
		if err != nil {
			return "", err
		}
		return pack(files, p.name, b)
	})
}

// pictures adds the sizes of the shop's pictures.
func pictures(files Files, set *note.Set, content fs.FS) error {
	for name, p := range set.Images {
		b, err := fs.ReadFile(content, name)
		if err != nil {
			return err
		}
		made, err := p.Files(strings.TrimPrefix(name, "content/"), b)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for at, b := range made {
			if _, twice := files[at]; twice {
				return fmt.Errorf("%s: its size %s has the name of another picture; give one of them another name", name, at)
			}
			files[at] = b
		}
	}
	return nil
}

// surround is what stands round the main part of a page.
type surround struct {
	Root, ShopID, ShopName, ShopAddress string
	Kind, Shelf, Title, Device, Policy  string
	File, Changed, Hint, Logo, Footer   string
	Standing                            standing
	New                                 bool // there is a page of what is new
}

// around tells what stands round a page; file is the note that it was made from, ""
// where there is none.
func around(set *note.Set, p page.Page, file string) surround {
	// frame-ancestors works as a header only
	policy, _, _ := strings.Cut(host.Policy, "; frame-ancestors")
	return surround{
		Root: page.Root(p.Address), ShopID: set.Shop.ID, ShopName: set.Shop.Name, ShopAddress: set.Shop.Address,
		Kind: p.Kind, Shelf: shelf(p.Address), Title: p.Title, Device: device(p), Policy: policy,
		File: file, Standing: standingOf(set, p, file), Changed: changed(set, file), New: len(set.Past.Changes) > 0,
		Hint: page.SearchHint(set), Logo: set.Shop.Logo, Footer: set.Shop.Footer,
	}
}

// frame appends a page in its frame.
func frame(b []byte, t *press.Press, p page.Page, a surround) ([]byte, error) {
	for _, part := range []struct {
		name string
		view any
	}{{"head", a}, {p.Template, p.View}, {"foot", a}} {
		var err error
		if b, err = t.Append(b, part.name, part.view); err != nil {
			return b, err
		}
	}
	return b, nil
}

// shelf is the part of the site that a page stands in, as the frame marks it.
func shelf(address string) string {
	switch first, _, _ := strings.Cut(address, "/"); first {
	case "devices", "faults", "blocks", "sheets", "opening":
		return "devices"
	case "checklists", "calc", "jobs":
		return first
	}
	return ""
}

// standing is how far a note may be relied on.
type standing struct {
	Draft   bool
	Asked   bool   // it is a note that somebody may check
	Checked string // by whom
}

// standingOf looks up the note that a page shows, and the one that it was made
// from.
func standingOf(set *note.Set, p page.Page, file string) (s standing) {
	if d, ok := set.Note("content/" + strings.TrimSuffix(p.Address, ".html") + ".md"); ok {
		s.Draft = d.Draft
	}
	if d, ok := set.Note(file); ok {
		s.Draft = s.Draft || d.Draft
		s.Asked = d.Kind != note.KindJob
		s.Checked = strings.Join(d.Checked, ", ")
	}
	return s
}

// changed says when a note last changed and why, "" where nobody knows.
func changed(set *note.Set, file string) string {
	c, ok := set.Past.Of(file)
	if !ok {
		return ""
	}
	return c.Day() + ": " + c.Says()
}

// device is the name of the device that a page is about, or "".
func device(p page.Page) string {
	if p.Found == nil {
		return ""
	}
	return p.Found.Device
}

// style joins the stylesheet's parts.
func style(files Files) error {
	var css bytes.Buffer
	for _, name := range []string{"faultleaf.css", "script/script.css"} {
		b, err := templates.Files.ReadFile(name)
		if err != nil {
			return err
		}
		css.Write(b)
	}
	code, err := page.CodeCSS()
	if err != nil {
		return err
	}
	css.WriteString("/* highlighted code */\n" + code)
	files["faultleaf.css"] = remarks.ReplaceAll(css.Bytes(), nil)
	leaf, err := templates.Files.ReadFile("leaf.svg")
	files["leaf.svg"] = leaf
	return err
}

// remarks are what a stylesheet says to people alone, with the end of their line.
var remarks = regexp.MustCompile(`(?s)/\*.*?\*/\n?`)

// told are the lines of a script that speak to people alone, and what indents the
// others: a sixth of what every page waits for. No text of a script spans lines.
var told = regexp.MustCompile(`(?m)^[ \t]*//.*\n|^[ \t]+`)

// hashed is a name that carries a hash of the content.
func hashed(name string, b []byte) string {
	sum := sha256.Sum256(b)
	return "run/" + name + "." + hex.EncodeToString(sum[:5])
}

// pack adds what a script loads, in its two forms; at is its address without their
// endings. A name with a hyphen carries a hash already; faultleaf.js tells the others.
func pack(files Files, name string, b []byte) (at string, err error) {
	packed, err := core.Pack(b)
	if err != nil {
		return "", err
	}
	if at = "run/" + name; !strings.Contains(name, "-") {
		at = hashed(name, packed)
	}
	files[at+".bin"], files[at+".js"] = packed, script(name, packed)
	return at, nil
}

// payload is what a script loads.
type payload struct {
	name, told string // told tells its content, beside the name
	read       func() ([]byte, error)
}

func payloadOf(name string, b []byte) payload {
	return payload{name, published.Sum(b), func() ([]byte, error) { return b, nil }}
}

// mostNamed is how many shards of words faultleaf.js names, which every page waits for: as many as 20,000 notes have.
const mostNamed = 128

// run adds the scripts, the browser binary and the index under names that carry
// a hash of their content, and faultleaf.js, which names them. put adds what a
// script loads, as pack does.
func run(files Files, index *build.Files, binary core.Core, bench []byte, shop calc.Shop, put func(payload) (at string, err error)) error {
	named := func(name, ext string, b []byte) string {
		at := hashed(name, b) + ext
		files[at] = b
		return at
	}
	join := func(names []string) ([]byte, error) {
		var all []byte
		for _, name := range names {
			b, err := templates.Files.ReadFile(path.Join("script", name))
			if err != nil {
				return nil, err
			}
			all = append(all, b...)
		}
		return told.ReplaceAll(all, nil), nil
	}
	app, err := join(templates.Scripts)
	if err != nil {
		return err
	}
	app = append(circuit.Script(), app...)
	few, err := join(templates.FewScripts)
	if err != nil {
		return err
	}
	worker, err := join(templates.WorkerScripts)
	if err != nil {
		return err
	}
	worker = slices.Concat(told.ReplaceAll(binary.Script, nil), []byte("\n"), worker)
	names := struct {
		App      string            `json:"app"`
		Few      string            `json:"few"`
		Go       string            `json:"go"`
		Worker   string            `json:"worker"` // its script: from a blob it starts at once, and from disk it may have no file
		Payloads map[string]string `json:"payloads"`
		Words    [][2]string       `json:"words"` // the first word and the name of each shard of the search's words; none where there are many
		Shop     calc.Shop         `json:"shop"`  // what the calculators in the page take from it
	}{Shop: shop, App: named("app", ".js", app), Few: named("few", ".js", few), Go: named("go", ".js", binary.Script), Worker: string(worker), Payloads: map[string]string{}}
	seen, err := json.Marshal(looks.Drawings())
	if err != nil {
		return err
	}
	for _, p := range []payload{
		{"core", binary.Wasm.Key, binary.Wasm.Read}, {"find", binary.Find.Key, binary.Find.Read}, {"trace", binary.Trace.Key, binary.Trace.Read},
		payloadOf("bench", bench), payloadOf("looks", seen), payloadOf("dictionary", index.Dictionary),
	} {
		if names.Payloads[p.name], err = put(p); err != nil {
			return err
		}
	}
	if len(index.Words) <= mostNamed {
		for _, w := range index.Words {
			names.Words = append(names.Words, [2]string{w.First, w.Name})
		}
	}
	for name := range index.Shards {
		if _, err := put(payload{name, name, func() ([]byte, error) { return index.Shard(name) }}); err != nil {
			return err
		}
	}
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	start, err := templates.Files.ReadFile("script/start.js")
	if err != nil {
		return err
	}
	files["faultleaf.js"] = append([]byte("var faultleafFiles = "+string(list)+";\n"), start...)
	return nil
}

// script carries a payload as a page from disk loads it.
func script(name string, packed []byte) []byte {
	return []byte("faultleafPayload(\"" + name + "\",\"" + base64.StdEncoding.EncodeToString(packed) + "\");\n")
}
