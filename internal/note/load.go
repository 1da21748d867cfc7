package note

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"slices"
	"sort"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/blocks"
	"faultleaf/internal/format"
	"faultleaf/internal/picture"
	"faultleaf/internal/problem"
)

// Find finds a calculator by name.
type Find func(name string) (*calc.Calculator, bool)

// loader holds a set while it is read.
type loader struct {
	fsys     fs.FS
	find     Find
	runs     *runs
	set      *Set
	mistakes problem.List
	remarks  problem.List
	docs     map[string]*Document // by file
	bodies   []*body
	byDoc    map[*Document]*body
	pictures map[string]bool
	devices  map[string]*deviceFile
	deviceOf map[*Document]string // the device of a fault
	faults   []*faultFile
	jobs     []*jobFile
	names    map[string]string // of files, as a machine that knows no case has them
	but      map[string]bool   // notes that are not read, for mistakes in them

	shared   *loader                 // has read what is no device's; nil where this one reads it
	some     bool                    // there are notes of devices that it leaves to others
	lists    map[string][]string     // of those, by folder
	examples map[*Block]problem.List // mistakes in a block by itself
	sound    []Leading               // of the block notes, where these hold none and are not read as examples
	reviewed int                     // mistakes that there were when what notes leave open was looked for
	sought   bool                    // and that this was looked for
	gaps     problem.List            // what they leave open
	known    *known                  // of the notes that are left to others; nil where nothing is
	taken    map[string]bool         // devices that it reads
	strays   bool                    // a note is of a device that is left to others

	logoAt           func()  // looks for the shop's logo once the pictures are known
	cited            []cites // complaints named anywhere
	symptoms         []symptomIs
	unsureComplaints bool // the vocabulary could not be read whole
	shutAt           map[*Page]shutNames

	library      blocks.Library
	planned      map[string]*planned // devices made of common blocks, by name
	plans        []string            // their names in turn
	sheetOf      map[string]string   // the device of a job's sheet, by file
	sources      map[string]*source  // of expanded notes, by the name of no file
	moved        map[string]string   // notes that went by another name, by file
	formers      []former
	unfilled     []unfilled
	effort       int
	shopless     bool              // content/shop.yaml is missing, so that nothing is asked of it
	toldKeys     map[string]bool   // keys of notes of which is told what is wrong
	things       map[string]former // by device: what its faults, tests, symptoms and readings were called
	devicesWere  map[string]string // former names of devices
	plates       map[*Document]map[string]string
	exampleTexts []exampleText
}

// Load reads the content/ folder inside fsys. The set holds whatever could be
// read; it is fit for publishing only if there are no mistakes. Remarks are
// hints that stop nothing.
func Load(fsys fs.FS, find Find) (set *Set, mistakes, remarks problem.List) {
	l := load(fsys, find)
	return l.set, l.mistakes, l.remarks
}

func load(fsys fs.FS, find Find) *loader { return loadBut(fsys, find, nil) }

// loadBut reads a shop without some of its notes, which are known by their names.
func loadBut(fsys fs.FS, find Find, but map[string]bool) *loader {
	l := newLoader(fsys, find)
	l.but = but
	if !l.readShared() {
		return l
	}
	l.readDevices(l.files("devices"), l.files("faults"), l.files("jobs"))
	for _, b := range l.set.Blocks {
		if !l.set.uses(b) { // a device of the shop says it with its own name
			l.mistakes = append(l.mistakes, l.examples[b]...)
		}
	}
	l.check()
	l.finish()
	return l
}

func newLoader(fsys fs.FS, find Find) *loader {
	return &loader{fsys: fsys, find: find, runs: &runs{made: map[string]ran{}}, set: &Set{Images: map[string]picture.Picture{}}, docs: map[string]*Document{}, byDoc: map[*Document]*body{}, pictures: map[string]bool{}, devices: map[string]*deviceFile{}, deviceOf: map[*Document]string{}, shutAt: map[*Page]shutNames{},
		library: blocks.Library{Kinds: map[string]*blocks.Kind{}}, planned: map[string]*planned{}, sheetOf: map[string]string{}, sources: map[string]*source{}, moved: map[string]string{}, toldKeys: map[string]bool{}, things: map[string]former{}, devicesWere: map[string]string{}, plates: map[*Document]map[string]string{}, examples: map[*Block]problem.List{}}
}

// readShared reads the notes that are no device's. It is false where nothing else
// can be said of the shop.
func (l *loader) readShared() bool {
	if _, err := fs.Stat(l.fsys, "content"); err != nil {
		l.mistakes.Add("content", 0, 0, "there is no folder content/ here", "go to the shop's folder, or name it with --from")
		return false
	}
	l.strangers()
	if !l.readShop() {
		return false
	}
	l.find = at(l.find, l.set.Shop.Values())
	if !l.there(complaintsFile) && len(l.entries("content/blocks")) > 0 { // each block and symptom would miss it
		l.mistakes.AddRoot(complaintsFile, 0, 0, "this file is missing, and the common blocks need it", "bring it back from git, or make a shop with faultleaf outfit elsewhere and copy its file")
		return false
	}
	l.readComplaints()
	l.readWords()
	for _, f := range l.files("blocks") {
		l.readBlock(f)
	}
	l.readLibrary()
	for _, f := range l.files("checklists") {
		l.readChecklist(f)
	}
	for _, f := range l.files("pages") {
		l.readPage(f)
	}
	l.images("content/images")
	if l.logoAt != nil {
		l.logoAt()
	}
	return true
}

// readDevices reads notes of devices: their own, their faults' and their sheets'.
func (l *loader) readDevices(devices, faults, jobs []string) {
	for _, f := range devices {
		l.readDevice(f)
	}
	for _, f := range faults {
		l.readFault(f)
	}
	l.expand()
	for _, f := range jobs {
		l.readJob(f)
	}
}

// check holds what was read against each other.
func (l *loader) check() {
	l.lead()
	l.settleDrafts()
	l.exampleBodies()
	l.cross()
	l.crossComplaints()
	for _, d := range l.docs {
		d.Places = l.places(d)
	}
	for _, b := range l.bodies {
		l.slips(b)
		l.checkBody(b)
	}
}

// finish puts what was found into its order.
func (l *loader) finish() {
	if l.shared == nil {
		for _, c := range l.set.Checklists {
			c.Steps = steps(&c.Document)
		}
	}
	l.remarks, l.gaps = append(l.remarks, l.gaps...), nil
	for _, list := range []*problem.List{&l.mistakes, &l.remarks} {
		l.truePlaces(*list)
		list.Sort()
		*list = again(gathered(*list))
	}
	l.set.Index()
}

// notNote says what to do with what lies among the notes of a folder and is none.
func notNote(e fs.DirEntry, folder string) string {
	name := e.Name()
	bare := strings.TrimSuffix(name, path.Ext(name))
	switch ext := strings.ToLower(path.Ext(name)); {
	case e.IsDir():
		return "notes lie in content/" + folder + " itself, in no folder below it"
	case ext == ".md":
		return "let its name end in .md, in small letters"
	case ext == ".txt" && path.Ext(bare) == ".md":
		return "some editors add .txt; let its name be " + bare
	case ext == ".txt" || ext == ".markdown":
		return "notes end in .md; let its name be " + bare + ".md"
	case ext == ".doc" || ext == ".docx" || ext == ".odt" || ext == ".rtf" || ext == ".pages":
		return "save it as plain text with a name that ends in .md"
	}
	return "notes end in .md; pictures belong in content/images"
}

// folders are what content/ may hold.
var folders = []string{"blocks", "checklists", "complaints.yaml", "devices", "faults", "images", "jobs", "pages", "shop.yaml", "words.txt"}

// strangers reports what lies in content/ and would silently be left out.
func (l *loader) strangers() {
	for _, e := range l.entries("content") {
		if !slices.Contains(folders, e.Name()) {
			l.mistakes.Add(path.Join("content", e.Name()), 0, 0, "content/ has no place for this", hint(e.Name(), folders))
		}
	}
}

// files lists the notes of a folder by name. Hidden files are left alone; what
// else is no note is a mistake, as it would silently be missing on the site.
func (l *loader) files(folder string) []string {
	dir := path.Join("content", folder)
	var out []string
	for _, e := range l.entries(dir) {
		file := path.Join(dir, e.Name())
		switch {
		case l.but[file]:
			l.docs[file] = unread(file, kindOf[folder])
		case e.IsDir() || path.Ext(e.Name()) != ".md":
			l.mistakes.Add(file, 0, 0, "this is no note", notNote(e, folder))
		case !IsName(strings.TrimSuffix(e.Name(), ".md")):
			l.mistakes.Add(file, 0, 0, "the file's name is not plain", "use small letters, digits and hyphens, like cord-broken.md")
		default:
			out = append(out, file)
		}
	}
	sort.Strings(out)
	return out
}

// begin reads a note's front matter and body and files the document.
func (l *loader) begin(file string, kind Kind, d *Document) (mapping, *reader, bool) {
	r := &reader{file: file, problems: &l.mistakes, unfilled: &l.unfilled, effort: &l.effort, told: l.toldKeys}
	d.Kind, d.File = kind, file
	d.Name = strings.TrimSuffix(path.Base(file), ".md")
	d.ID = strings.TrimPrefix(path.Dir(file), "content/") + "/" + d.Name
	d.Title = d.Name
	l.docs[file] = d // it is there, whatever is wrong in it
	raw, ok := l.readFile(r)
	var front, text []byte
	if ok {
		front, text, ok = r.split(raw)
	}
	if !ok {
		b := l.parseBody(d, nil, 1)
		b.lost = true
		l.bodies, l.byDoc[d] = append(l.bodies, b), b
		return mapping{}, r, false
	}
	// the body begins below ---, the front matter and --- again
	b := l.parseBody(d, text, 3+bytes.Count(front, []byte("\n")))
	l.bodies, l.byDoc[d] = append(l.bodies, b), b
	m, ok := r.parse(string(front), keysOf[kind])
	if home := m.home(); ok && home != "" && home != kind {
		r.problems.AddRoot(file, 1, 1, "this is the note of a "+string(home)+", and it lies among the "+path.Base(path.Dir(file)), "move it to content/"+string(home)+"s")
		b.lost = true
		return m, r, false
	}
	if ok {
		d.status(&m)
		if kind != KindJob {
			l.readFormer(d, &m)
		}
	}
	if ok && kind != KindJob && !m.has("like") {
		if t := m.text("title"); t != "" {
			d.Title = t
		}
	}
	return m, r, ok
}

// home is the kind of note that a front matter can only be meant for, "" where it may be several.
func (m *mapping) home() Kind {
	switch {
	case m.has("device") && m.has("cause") && m.has("mend") && !m.has("date") && !m.has("outcome") && !m.has("blocks"):
		return KindFault
	case m.has("blocks") && !m.has("device") && (m.has("access") || m.has("tests") || m.has("class") || m.has("plate")):
		return KindDevice
	}
	return ""
}

// status reads whether the note is a draft and who checked it.
func (d *Document) status(m *mapping) {
	d.Draft = m.flag("draft")
	if d.Kind != KindJob {
		d.Checked = m.texts("checked_by")
	}
}

// kindOf are the kinds of notes by their folder.
var kindOf = map[string]Kind{"blocks": KindBlock, "devices": KindDevice, "faults": KindFault, "checklists": KindChecklist, "pages": KindPage, "jobs": KindJob}

// keysOf are the tables of the kinds of notes.
var keysOf = map[Kind]format.Keys{KindDevice: format.Device, KindFault: format.Fault, KindChecklist: format.Checklist, KindJob: format.Job, KindPage: format.Page, KindBlock: format.Block}

// images lists the pictures of a folder and of those inside it.
func (l *loader) images(dir string) {
	for _, e := range l.entries(dir) {
		p := path.Join(dir, e.Name())
		if e.IsDir() {
			l.images(p)
			continue
		}
		if says, do := l.file(p, largestPicture); says != "" {
			l.mistakes.Add(p, 0, 0, says, do)
			continue
		}
		b, err := fs.ReadFile(l.fsys, p)
		if err != nil {
			l.mistakes.Add(p, 0, 0, "the file cannot be read", "check that you may read it")
			continue
		}
		seen, err := picture.Look(p, b)
		l.pictures[p] = true // a link to it is right, whatever is wrong in it
		var wrong *picture.Problem
		if errors.As(err, &wrong) {
			l.mistakes.Add(p, wrong.Line, 1, wrong.Says, wrong.Do)
			continue
		}
		l.set.Images[p] = seen
	}
}
