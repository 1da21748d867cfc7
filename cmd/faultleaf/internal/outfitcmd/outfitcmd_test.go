package outfitcmd

import (
	"bytes"
	"os"
	"testing"
)

// A new shop begins with the same vocabulary as the shop of the house. Run with
// UPDATE_GOLDEN=1 to copy it.
func TestVocabulary(t *testing.T) {
	want, err := os.ReadFile("../../../../content/complaints.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile("starter/complaints.yaml", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := starter.ReadFile("starter/complaints.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) && os.Getenv("UPDATE_GOLDEN") == "" {
		t.Error("starter/complaints.yaml differs from content/complaints.yaml; run with UPDATE_GOLDEN=1 and read the diff")
	}
}
