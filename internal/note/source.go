package note

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"faultleaf/calc/sources"
)

// sourceMark is the scheme of a link to a document on the list of sources, as
// in [IEC 60335-1, table 11](source:iec-60335-1).
const sourceMark = "source:"

// SourceID is the id in the address of a link to a source; ok is false for
// every other link.
func SourceID(to string) (id string, ok bool) { return strings.CutPrefix(to, sourceMark) }

// Cite is a link to a source in a note.
type Cite struct {
	ID, Says string // the document, and the words of the link
}

// checkSource checks a link to a source: it is on the list, the paragraph says
// where it is no longer in force or was not seen, and it speaks of this kind of
// device.
func (l *loader) checkSource(b *body, n *ast.Link, id string, start int) {
	s, ok := sources.Find(id)
	if !ok {
		var ids []string
		for _, s := range sources.All {
			ids = append(ids, s.ID)
		}
		l.report(b, start, "there is no source "+quote(id), hint(id, ids))
		return
	}
	b.doc.Cites = append(b.doc.Cites, Cite{id, strings.TrimSpace(Text(n, b.doc.Source))})
	if Text(n, b.doc.Source) == "" {
		l.report(b, start, "the link to a source has no words", "write ["+s.Name+"](source:"+id+")")
	}
	says := strings.ToLower(Text(block(n), b.doc.Source))
	if !s.InForce() && !sources.SaysPast(says) {
		l.report(b, start, s.Name+" is "+s.Ended(), "say so in this paragraph, or cite what is in force")
	}
	if s.Seen == sources.Memory && !strings.Contains(says, "memory") {
		l.report(b, start, s.Name+" was not seen", "say in this paragraph that the figure is from memory")
	}
	if kind := l.kindFor(b.doc); kind != "" && len(s.Devices) > 0 && !s.Covers(kind) {
		l.report(b, start, s.Name+" gives no verdict on this kind of device ("+kind+"); it is for "+s.Scope, "cite a document for it, or write that there is no figure")
	}
}

// block is the paragraph, cell or item that holds a node.
func block(n ast.Node) ast.Node {
	for n.Parent() != nil && n.Type() == ast.TypeInline {
		n = n.Parent()
	}
	return n
}

// kindFor is the kind of device that a note on a device or its fault is about,
// as documents part them; "" where the note does not say.
func (l *loader) kindFor(doc *Document) string {
	name := doc.Name
	switch doc.Kind {
	case KindDevice:
	case KindFault:
		name = l.deviceOf[doc]
	default:
		return ""
	}
	if d, ok := l.devices[name]; ok {
		return d.JudgedAs
	}
	return ""
}

// readJudgedAs reads which documents judge a device.
func (r *reader) readJudgedAs(d *deviceFile, m *mapping) {
	if n, ok := m.get("judged_as"); ok {
		k := r.text(n, "the kind it is judged as")
		if k != "" && !slices.Contains(sources.Kinds, k) {
			do := "it should be one of " + strings.Join(sources.Kinds, ", ")
			if near := nearest(k, sources.Kinds); near != "" {
				do = "did you mean “" + near + "”"
			}
			r.at(n, "a device cannot be judged as "+quote(k), do)
			return
		}
		d.JudgedAs = k
	}
}
