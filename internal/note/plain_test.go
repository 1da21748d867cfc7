package note

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml/ast"
)

// outline writes down what this package looks at in a tree.
func outline(b *strings.Builder, n ast.Node) {
	if n == nil {
		b.WriteString("nothing\n")
		return
	}
	fmt.Fprintf(b, "%T ", n)
	token := func() {
		t := n.GetToken()
		fmt.Fprintf(b, "%v %q %d:%d\n", t.Type, t.Value, t.Position.Line, t.Position.Column)
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		if n.IsFlowStyle {
			token() // another one is found at its first key
		}
		fmt.Fprintln(b, n.IsFlowStyle, len(n.Values))
		for _, v := range n.Values {
			outline(b, v)
		}
	case *ast.MappingValueNode:
		fmt.Fprintln(b, n.Start.Type, n.Start.Value)
		outline(b, n.Key)
		outline(b, n.Value)
	case *ast.SequenceNode:
		token()
		fmt.Fprintln(b, n.IsFlowStyle, len(n.Values))
		for _, v := range n.Values {
			outline(b, v)
		}
	case *ast.StringNode:
		token()
		fmt.Fprintf(b, "%q\n", n.Value)
	case *ast.BoolNode:
		token()
		fmt.Fprintln(b, n.Value)
	default:
		token()
	}
}

// sameAsLibrary fails where a text is read otherwise than by the library; it tells
// whether the text was plain.
func sameAsLibrary(t *testing.T, text string) bool {
	t.Helper()
	n := plain(text)
	if n == nil {
		return false
	}
	var got, want strings.Builder
	outline(&got, n)
	trees, err := syntaxByLibrary(text)
	if err != nil {
		t.Fatalf("%q is read, and the library says: %v", text, err)
	}
	if len(trees) != 1 {
		t.Fatalf("%q is read, and the library finds %d documents", text, len(trees))
	}
	if outline(&want, trees[0]); got.String() != want.String() {
		ours, theirs := strings.Split(got.String(), "\n"), strings.Split(want.String(), "\n")
		i := 0
		for i < min(len(ours), len(theirs))-1 && ours[i] == theirs[i] {
			i++
		}
		t.Fatalf("%q is read as\n%s\nand by the library as\n%s", text, ours[i], theirs[i])
	}
	return true
}

// fronts are the front matters of the starter, and of an expanded one.
func fronts(t testing.TB) (out []string) {
	t.Helper()
	files, err := filepath.Glob("../../content/*/*.md")
	if err != nil || len(files) == 0 {
		t.Fatal("no notes: ", err)
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if front, _, ok := (&reader{}).split(raw); ok {
			out = append(out, string(front))
		}
	}
	return out
}

// Every front matter of the starter is read as the library reads it, and nearly all
// without it.
func TestPlainSame(t *testing.T) {
	read, all := 0, fronts(t)
	for _, text := range all {
		if sameAsLibrary(t, text) {
			read++
		}
	}
	if read*20 < len(all)*19 {
		t.Errorf("of %d front matters only %d are plain", len(all), read)
	}
}

// What is not plain, or wrong, is never read as something else than the library
// makes of it.
func TestPlainMutated(t *testing.T) {
	all := fronts(t)
	rnd := rand.New(rand.NewPCG(7, 11))
	pieces := []string{" ", "  ", "\n", ":", ": ", "-", "- ", ",", "[", "]", "{", "}", "\"", "'", "#", " #", "&", "*", "!", "|", ">", "%", "@", "`", "?", "? ", "~", "null", "true", "0", "1_0", ".5", "1.5", "0x1", "0o7", "012", "1e3", ".inf", "<<", "---", "...", "=", "é", "Ω", "\u00a0", "\u2028", "\ufeff", "a", "a: b", "(", "+", "/", "\x01", "\t", "\\", "\r"}
	n, plain := 4000, 0
	if testing.Short() {
		n = 400
	}
	for range n {
		text := all[rnd.IntN(len(all))]
		if len(text) > 1500 { // many small ones find more
			text = text[:1500]
		}
		for range 1 + rnd.IntN(3) {
			at := rnd.IntN(len(text) + 1)
			end := min(at+[]int{0, 0, 1, 2, 5}[rnd.IntN(5)], len(text))
			text = text[:at] + pieces[rnd.IntN(len(pieces))] + text[end:]
		}
		if sameAsLibrary(t, text) {
			plain++
		}
	}
	if plain*10 < n {
		t.Errorf("only %d of %d were plain, which proves little", plain, n)
	}
}

func FuzzPlain(f *testing.F) {
	for _, text := range fronts(f)[:40] {
		f.Add(text)
	}
	f.Add("a: b\nc:\n  - d: [e, {f: 1}]\n    g: \"h, i\"\n  - true\nj:\n- 0.5\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 5000 && depth(text) <= deepest {
			sameAsLibrary(t, text)
		}
	})
}

func BenchmarkSyntax(b *testing.B) {
	all := fronts(b)
	for name, read := range map[string]func(string) ([]ast.Node, error){"plain": syntax, "library": syntaxByLibrary} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for i := range b.N {
				_, _ = read(all[i%len(all)])
			}
		})
	}
}
