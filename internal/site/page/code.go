package page

import (
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// What is coloured of code: more of it, or in longer lines, stands as it is. The patterns that tell
// its words apart go back over what they have read, some for minutes; and they give up by the
// clock, so that a page would come out differently on a busy machine.
const (
	mostCode = 20_000 // bytes on a page
	mostLine = 200    // bytes of one line
)

// languages are the names under which code may be marked, in small letters, each with the one that
// its lexer goes by. Asked by the library, a name that is none is held against the patterns
// of all file names there are, a millisecond each time.
var languages = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, lexer := range lexers.GlobalLexerRegistry.Lexers {
		c := lexer.Config()
		for _, name := range append([]string{c.Name}, c.Aliases...) {
			if name = strings.ToLower(name); out[name] == "" {
				out[name] = c.Name
			}
		}
	}
	return out
})

// lexerOf finds what tells the words of a piece of code apart.
func (w *writer) lexerOf(language, text string) chroma.Lexer {
	name := languages()[strings.ToLower(language)]
	if name == "" {
		return lexers.Fallback
	}
	if w.code += len(text); w.code > mostCode {
		return lexers.Fallback
	}
	for line := range strings.Lines(text) {
		if len(line) > mostLine {
			return lexers.Fallback
		}
	}
	if lexer := lexers.Get(name); lexer != nil {
		return lexer
	}
	return lexers.Fallback
}
