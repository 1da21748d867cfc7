// Package search reads the index of the notes and answers a query, best first.
package search

import "errors"

// Index is an opened index. It is safe for use by several goroutines.
type Index struct{}

// Open checks and opens the parts and the statistics that build.Write made.
// It keeps the byte slices; the caller must not change them.
func Open(parts [][]byte, stats []byte) (*Index, error) {
	return nil, errors.New("the search index cannot be read yet")
}

// Search returns the notes that answer the query, best first, equal ones by ID.
func (ix *Index) Search(query string, o Options) []Hit { return nil }
