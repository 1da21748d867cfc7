package inbox

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"
)

// Change is a note as somebody would have it. It is kept until a person takes it; the
// host writes nothing into content/.
type Change struct {
	File string `json:"file"` // "content/faults/cord-broken.md"
	Base string `json:"base"` // of the note that it was made from
	Text string `json:"text"`
}

// changed are the folders whose notes may be changed from a page; a sheet is not written anew.
var changed = []string{"blocks", "checklists", "devices", "faults", "pages"}

// head begins the line above a kept change.
const head = "change to "

// Base is what tells whether a note is still the one that a change was made from.
func Base(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// proper says whether a change names a note of content/.
func (c Change) proper() bool {
	parts := strings.Split(c.File, "/")
	return fs.ValidPath(c.File) && len(parts) == 3 && parts[0] == "content" && slices.Contains(changed, parts[1]) && plainName.MatchString(parts[2])
}

// Bytes is the change as it is kept.
func (c Change) Bytes() []byte { return []byte(head + c.File + " from " + c.Base + "\n" + c.Text) }

// ReadChange reads a kept change; ok is false for any other text.
func ReadChange(b []byte) (c Change, ok bool) {
	line, text, _ := bytes.Cut(b, []byte("\n"))
	rest, is := strings.CutPrefix(string(line), head)
	c.File, c.Base, ok = strings.Cut(rest, " from ")
	c.Text = string(text)
	return c, is && ok && c.proper()
}

// name is the file's name in the inbox.
func (c Change) name() string {
	return path.Base(path.Dir(c.File)) + "-" + path.Base(c.File)
}

// note gives a note to be changed.
func (d *Door) note(w http.ResponseWriter, file string) {
	c := Change{File: file}
	if d.Notes == nil || !c.proper() {
		say(w, http.StatusNotFound, "There is no such note to be changed here.")
		return
	}
	text, err := d.kept(file)
	if err != nil {
		say(w, http.StatusNotFound, "There is no such note any more; load the page again.")
		return
	}
	answer(w, Change{File: file, Base: Base(text), Text: string(text)})
}

// kept reads a note that may be changed: a plain file in a plain folder, for a link would
// show what lies outside of the shop, and a pipe would hold up whoever reads it.
func (d *Door) kept(file string) ([]byte, error) {
	folder, err := fs.Lstat(d.Notes, path.Dir(file))
	if err != nil || !folder.IsDir() {
		return nil, fs.ErrNotExist
	}
	if info, err := fs.Lstat(d.Notes, file); err != nil || !info.Mode().IsRegular() || info.Size() > longestRequest {
		return nil, fs.ErrNotExist
	}
	return fs.ReadFile(d.Notes, file)
}

// change keeps a change, if it is sound and its note is still the same.
func (d *Door) change(w http.ResponseWriter, body []byte) {
	var c Change
	if err := json.Unmarshal(body, &c); err != nil || d.Notes == nil || !c.proper() {
		fails(w, ErrName)
		return
	}
	c.Text = strings.ReplaceAll(c.Text, "\r\n", "\n")
	if len(c.Text) > longestText {
		fails(w, ErrLarge)
		return
	}
	text, err := d.kept(c.File)
	switch {
	case err != nil || Base(text) != c.Base:
		say(w, http.StatusConflict, "The note was changed meanwhile. Copy your text, load the page again, and hand it in again.")
		return
	case string(text) == c.Text:
		say(w, http.StatusUnprocessableEntity, "Nothing is changed.")
		return
	}
	if d.Check != nil {
		if err := d.Check(Changes, c.File, []byte(c.Text)); err != nil {
			say(w, http.StatusUnprocessableEntity, err.Error())
			return
		}
	}
	name, err := d.Box.Keep(Changes, c.name(), c.Bytes())
	if err != nil {
		fails(w, err)
		return
	}
	answer(w, map[string]string{"name": name})
}
