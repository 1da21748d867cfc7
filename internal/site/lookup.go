package site

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"faultleaf/internal/history"
	"faultleaf/internal/problem"
	"faultleaf/internal/published"
	"faultleaf/internal/site/page"
	"faultleaf/search"
	"faultleaf/search/build"
)

// Index makes the search index of the notes under dir in memory, from the same
// bytes that a site would carry. Of notes with mistakes it makes that of the others;
// it is nil where a mistake concerns the whole shop.
func Index(dir string) (*search.Index, problem.List, error) {
	set, left, mistakes := Healthy(dir, "")
	if left.All {
		return nil, mistakes, nil
	}
	set.Past = history.Read(context.Background(), dir) // what is new is a page, too
	_, docs, err := Pages(set)
	if err != nil {
		return nil, nil, err
	}
	files, err := build.Write(docs, page.NewShop(set, nil).Speech(), nil)
	if err != nil {
		return nil, nil, err
	}
	ix, err := files.Open()
	return ix, mistakes, err
}

// Published opens the search index of the site in the folder to, which the notes
// under dir were published into. The error says why it cannot answer for the
// notes: there is none, it is older than they are, or it cannot be read.
func Published(dir, to string) (*search.Index, error) {
	if !published.Any(to) {
		return nil, fmt.Errorf("nothing is published in %s yet", to)
	}
	read, err := os.ReadFile(filepath.Join(to, filepath.FromSlash(readFrom)))
	if err != nil {
		return nil, fmt.Errorf("the site in %s does not say which notes it was made from", to)
	}
	list, err := walk(dir)
	if err != nil {
		return nil, err
	}
	now := stamp(list)
	if !bytes.Equal(read, now) {
		return nil, fmt.Errorf("the notes have changed since %s was published%s", to, first(read, now))
	}
	return open(os.DirFS(to))
}

// open reads the index out of a site.
func open(site fs.FS) (*search.Index, error) {
	start, err := fs.ReadFile(site, "faultleaf.js")
	if err != nil {
		return nil, errors.New("the site lacks its faultleaf.js")
	}
	var names struct {
		Payloads map[string]string
	}
	line, _, _ := bytes.Cut(start, []byte("\n"))
	line = bytes.TrimSuffix(bytes.TrimPrefix(line, []byte("var faultleafFiles = ")), []byte(";"))
	if err := json.Unmarshal(line, &names); err != nil {
		return nil, errors.New("the site's faultleaf.js is damaged")
	}
	unpacked := func(name string) ([]byte, error) {
		f, err := site.Open(name)
		if err != nil {
			return nil, fmt.Errorf("a file of its search index is missing: %w", err)
		}
		defer f.Close()
		z, err := gzip.NewReader(f)
		if err != nil {
			return nil, fmt.Errorf("%s is damaged", name)
		}
		return io.ReadAll(z)
	}
	dictionary, err := unpacked(names.Payloads["dictionary"] + ".bin")
	if err != nil {
		return nil, err
	}
	return search.Open(dictionary, func(name string) ([]byte, error) { return unpacked("run/" + name + ".bin") })
}

// readFrom is where a site's folder keeps which notes it was made from, as they
// stood when they were read. It is no file of the site.
const readFrom = ".faultleaf/notes"

// stamp lists files, a line for each with its size, its time and its path: what a site
// was made from, without reading it.
func stamp(list []source) []byte {
	b := make([]byte, 0, 96*len(list)) // mostly enough
	for _, x := range list {
		b = append(strconv.AppendInt(b, x.Size, 10), ' ')
		b = append(strconv.AppendInt(b, x.Time, 10), ' ')
		b = append(append(b, x.file...), '\n')
	}
	return b
}

// first names the first file in which two lists of sources differ, in brackets.
func first(a, b []byte) string {
	for {
		x, restA, _ := bytes.Cut(a, []byte("\n"))
		y, restB, _ := bytes.Cut(b, []byte("\n"))
		if !bytes.Equal(x, y) {
			if pathOf(x) == "" || pathOf(y) != "" && pathOf(y) < pathOf(x) {
				x = y
			}
			return " (" + pathOf(x) + ")"
		}
		if len(x) == 0 {
			return ""
		}
		a, b = restA, restB
	}
}

// pathOf is the path in a line of a list of sources.
func pathOf(line []byte) string {
	f := strings.SplitN(string(line), " ", 3)
	return f[len(f)-1]
}
