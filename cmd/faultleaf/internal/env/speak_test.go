package env

import (
	"errors"
	"fmt"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// What the machine says of files and ports is said in the words of a person, inside whatever sentence it stands in.
func TestPlain(t *testing.T) {
	file := filepath.Join(t.TempDir(), "afile")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	below := os.Mkdir(filepath.Join(file, "x"), 0o700)
	_, absent := os.Open(filepath.Join(t.TempDir(), "nothere"))
	for _, c := range []struct {
		err  error
		want string
	}{
		{below, "is a file where a folder is needed"},
		{fmt.Errorf("the queries cannot be read: %w", absent), "the queries cannot be read: there is no "},
		{&fs.PathError{Op: "open", Path: "content/.half-1", Err: fs.ErrPermission}, "this user may not read or change content; "},
		{&fs.PathError{Op: "write", Path: "public/index.html", Err: syscall.ENOSPC}, "the disk is full; make room and try again"},
		{&os.LinkError{Op: "rename", Old: "a", New: "b", Err: syscall.EROFS}, "the disk with b can only be read"},
		{fmt.Errorf("port 80 cannot be opened (%w); choose another", &net.OpError{Op: "listen", Err: os.NewSyscallError("bind", syscall.EADDRINUSE)}), "(another program has it, perhaps a faultleaf that runs already); choose"},
		{errors.New("as it was"), "as it was"},
	} {
		if got := Plain(c.err); !strings.Contains(got, c.want) {
			t.Errorf("%v is said as %q, wanted %q in it", c.err, got, c.want)
		}
	}
}
