package jobpage

import (
	"fmt"
	"testing"
)

// At least so many of the newest sheets are found, and hardly ever does a new one mean
// that another leaves.
func TestOld(t *testing.T) {
	var ids []string
	leaves := 0
	for n := range 3 * indexed {
		left := len(Old(ids))
		ids = append(ids, fmt.Sprintf("jobs/%05d", n))
		old := Old(ids)
		switch found := len(ids) - len(old); {
		case found < min(len(ids), indexed) || found >= indexed+leaving:
			t.Fatalf("of %d sheets %d are found", len(ids), found)
		case len(old) > 0 && (!old[ids[0]] || old[ids[len(ids)-1]]):
			t.Fatalf("of %d sheets the newest is left out, or the oldest is not", len(ids))
		case len(old) != left:
			leaves++
		}
	}
	if leaves != 2*indexed/leaving {
		t.Errorf("sheets left %d times", leaves)
	}
}
