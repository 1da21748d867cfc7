package history

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// repository is a shop in git; each step writes a file and commits it.
func repository(t *testing.T, steps ...[3]string) string {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not here")
	}
	dir := t.TempDir()
	git := func(day string, args ...string) {
		cmd := exec.Command("git", append([]string{"-c", "user.name=a", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false"}, args...)...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GIT_AUTHOR_DATE="+day+"T12:00:00Z", "GIT_COMMITTER_DATE="+day+"T12:00:00Z", "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, out)
		}
	}
	git("2026-01-01", "init", "-q")
	for _, s := range steps {
		name := filepath.Join(dir, s[1])
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(s[2]), 0o644); err != nil {
			t.Fatal(err)
		}
		git(s[0], "add", "-A")
		git(s[0], "commit", "-q", "-m", s[2]+"\n\nand more")
	}
	return dir
}

func TestHistory(t *testing.T) {
	dir := repository(t,
		[3]string{"2026-03-01", "content/faults/a.md", "fault: cord broken"},
		[3]string{"2026-03-02", "README.md", "no note"},
		[3]string{"2026-03-03", "content/faults/b.md", "fault: käfer in the base"},
		[3]string{"2026-03-04", "content/faults/a.md", "fault: cord broken, its readings"},
		[3]string{"2026-03-05", "content/images/a b ü.svg", "picture"})
	h := Read(context.Background(), dir)
	if len(h.Changes) != 4 {
		t.Fatalf("%+v", h.Changes)
	}
	for file, want := range map[string]string{
		"content/faults/a.md":      "4 March 2026: fault: cord broken, its readings",
		"content/faults/b.md":      "3 March 2026: fault: käfer in the base",
		"content/images/a b ü.svg": "5 March 2026: picture",
	} {
		if c, ok := h.Of(file); !ok || c.Day()+": "+c.Why != want {
			t.Errorf("%s: %s: %s", file, c.Day(), c.Why)
		}
	}
	if _, ok := h.Of("content/faults/c.md"); ok {
		t.Error("a note without commits has a past")
	}
}

// The shop may lie in a folder of a larger repository.
func TestBelow(t *testing.T) {
	dir := repository(t, [3]string{"2026-03-01", "shops/ours/content/faults/a.md", "a"})
	if _, ok := Read(context.Background(), filepath.Join(dir, "shops", "ours")).Of("content/faults/a.md"); !ok {
		t.Error("its history is not found")
	}
}

// Whoever has read before reads on, and knows what is known by reading all: after
// commits, after none, after one that was taken back, after a branch was merged.
func TestReadOn(t *testing.T) {
	dir := repository(t, [3]string{"2026-03-01", "content/faults/a.md", "a"}, [3]string{"2026-03-02", "content/faults/b.md", "b"})
	git := func(args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=a", "-c", "user.email=a@b.invalid", "-c", "commit.gpgsign=false"}, args...)...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null")
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, out)
		}
	}
	commit := func(day, file, text string) {
		t.Helper()
		t.Setenv("GIT_COMMITTER_DATE", day+"T12:00:00Z")
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		git("add", "-A")
		git("commit", "-q", "-m", text)
	}
	known := Read(context.Background(), dir)
	for _, step := range []struct {
		name string
		do   func()
	}{
		{"nothing", func() {}},
		{"two commits", func() {
			commit("2026-03-03", "content/faults/a.md", "a again")
			commit("2026-03-04", "content/faults/c.md", "c")
		}},
		{"one beside the notes", func() { commit("2026-03-05", "README.md", "no note") }},
		{"one that is older than the last", func() { commit("2026-03-01", "content/faults/c.md", "from a clock that goes wrong") }},
		{"one taken back, another in its place", func() {
			git("reset", "-q", "--hard", "HEAD~1")
			commit("2026-03-06", "content/faults/b.md", "b again")
		}},
		{"a branch with older commits merged", func() {
			git("checkout", "-q", "-b", "side", "HEAD~2")
			commit("2026-03-02", "content/faults/d.md", "d")
			git("checkout", "-q", "-")
			commit("2026-03-07", "content/faults/a.md", "a, third")
			git("merge", "-q", "--no-edit", "side")
		}},
		{"one after the merge", func() { commit("2026-03-08", "content/faults/d.md", "d again") }},
	} {
		step.do()
		known = ReadOn(context.Background(), dir, known)
		if all := Read(context.Background(), dir); !reflect.DeepEqual(known, all) {
			t.Errorf("%s: reading on knows %+v, reading all %+v", step.name, known, all)
		}
	}
}

// Without git there is no history, and no error; a repository from elsewhere
// runs nothing.
func TestNothing(t *testing.T) {
	if h := Read(context.Background(), t.TempDir()); len(h.Changes) != 0 {
		t.Errorf("%+v", h)
	}
	dir := repository(t, [3]string{"2026-03-01", "content/faults/a.md", "a"})
	mark := filepath.Join(t.TempDir(), "ran")
	config := "[core]\n\tfsmonitor = touch " + mark + "\n\tpager = touch " + mark + "\n[log]\n\tshowSignature = true\n[gpg]\n\tprogram = touch " + mark + "\n"
	f, err := os.OpenFile(filepath.Join(dir, ".git", "config"), os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = f.WriteString(config)
		f.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	Read(context.Background(), dir)
	if _, err := os.Stat(mark); err == nil {
		t.Error("the repository ran a program")
	}
}

// What a repository lacks is fetched from nowhere: the settings of one that was cloned in part
// say which program fetches.
func TestFetchesNothing(t *testing.T) {
	dir := repository(t, [3]string{"2026-03-01", "content/faults/a.md", "a"}, [3]string{"2026-03-02", "content/faults/a.md", "b"})
	mark := filepath.Join(t.TempDir(), "ran")
	config := "[core]\n\trepositoryformatversion = 1\n[extensions]\n\tpartialClone = away\n[remote \"away\"]\n\turl = ext::sh -c \"touch% " + mark + "\"\n" +
		"\tuploadpack = touch " + mark + "; false\n\tpromisor = true\n[protocol]\n\tallow = always\n[protocol \"ext\"]\n\tallow = always\n"
	f, err := os.OpenFile(filepath.Join(dir, ".git", "config"), os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = f.WriteString(config)
		f.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	out, err := Git(context.Background(), dir, "rev-parse", "HEAD:content", "HEAD:content/faults/a.md").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range strings.Fields(string(out)) {
		if err := os.Remove(filepath.Join(dir, ".git", "objects", id[:2], id[2:])); err != nil {
			t.Fatal(err)
		}
	}
	Read(context.Background(), dir)
	_ = Git(context.Background(), dir, "show", "HEAD:./content/faults/a.md").Run()
	if _, err := os.Stat(mark); err == nil {
		t.Error("the repository ran a program")
	}
	// the bait works: git as it is takes it
	bare := exec.Command("git", "-C", dir, "show", "HEAD:content/faults/a.md")
	_ = bare.Run()
	if _, err := os.Stat(mark); err != nil {
		t.Log("this git does not fetch what is missing, so that nothing was tried")
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("\x011740000000\x02a\x00\ncontent/faults/a.md\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		h := parse(b)
		for file := range h.last {
			if _, ok := h.Of(file); !ok {
				t.Fatal(file)
			}
		}
	})
}

// A page names the notes beside the message, so the parts that it may begin with are left out.
func TestSays(t *testing.T) {
	for why, says := range map[string]string{
		"content: looks of housing":        "Looks of housing",
		"trace, draw: fewer steps":         "Fewer steps",
		"The reel's earth, 1 Ω: too much":  "The reel's earth, 1 Ω: too much",
		"éclairage: lampes":                "Éclairage: lampes",
		"kettle: ":                         "kettle: ",
		"":                                 "",
		"see http://example.invalid/ once": "See http://example.invalid/ once",
	} {
		if got := (Change{Why: why}).Says(); got != says {
			t.Errorf("%q is told as %q, not %q", why, got, says)
		}
	}
}

// What was kept of the past may come with a shop from elsewhere: no word of it is an order to git.
func TestForgedPast(t *testing.T) {
	dir := repository(t, [3]string{"2026-03-01", "content/faults/a.md", "a"})
	want := Read(context.Background(), dir)
	for _, head := range []string{"--output=" + filepath.Join(dir, "mark"), "-O" + filepath.Join(dir, "mark"), "--all", "HEAD", "HEAD --output=mark", "\x00", want.Head + "\n--output=mark", "^" + want.Head, strings.Repeat("f", 40), "../../x"} {
		if got := ReadOn(context.Background(), dir, History{Head: head, Changes: []Change{{Why: "forged"}}}); !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v", head, got)
		}
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 2 {
		t.Errorf("%v in the shop, %v", left, err)
	}
}
