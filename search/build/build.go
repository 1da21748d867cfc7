// Package build writes the index that package search reads.
package build

import (
	"errors"

	"faultleaf/search"
)

// Files are the files of an index. The same documents, in any order, give the
// same bytes.
type Files struct {
	Parts [][]byte // zap segments; a document's part follows from its ID
	Stats []byte
}

// Write makes the index of the documents. IDs must be unique and not empty.
func Write(docs []search.Document) (*Files, error) {
	return nil, errors.New("the search index cannot be written yet")
}
