package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"path"
	"regexp"
	"slices"
	"strings"

	"faultleaf/calc"
	"faultleaf/calc/draw/circuit"
	"faultleaf/calc/draw/looks"
	"faultleaf/internal/core"
	"faultleaf/internal/published"
	"faultleaf/internal/site/page"
	"faultleaf/search/build"
	"faultleaf/templates"
)

// style joins the stylesheet's parts.
func style(files Files) error {
	var css bytes.Buffer
	for _, name := range []string{"faultleaf.css", "script/script.css"} {
		b, err := templates.Files.ReadFile(name)
		if err != nil {
			return err
		}
		css.Write(b)
	}
	code, err := page.CodeCSS()
	if err != nil {
		return err
	}
	css.WriteString("/* highlighted code */\n" + code)
	files["faultleaf.css"] = remarks.ReplaceAll(css.Bytes(), nil)
	leaf, err := templates.Files.ReadFile("leaf.svg")
	files["leaf.svg"] = leaf
	return err
}

// remarks are what a stylesheet says to people alone, with the end of their line.
var remarks = regexp.MustCompile(`(?s)/\*.*?\*/\n?`)

// told are the lines of a script that speak to people alone, and what indents the
// others: a sixth of what every page waits for. No text of a script spans lines.
var told = regexp.MustCompile(`(?m)^[ \t]*//.*\n|^[ \t]+`)

// hashed is a name that carries a hash of the content.
func hashed(name string, b []byte) string {
	sum := sha256.Sum256(b)
	return "run/" + name + "." + hex.EncodeToString(sum[:5])
}

// pack adds what a script loads, in its two forms; at is its address without their
// endings. A name with a hyphen carries a hash already; faultleaf.js tells the others.
func pack(files Files, name string, b []byte) (at string, err error) {
	packed, err := core.Pack(b)
	if err != nil {
		return "", err
	}
	if at = "run/" + name; !strings.Contains(name, "-") {
		at = hashed(name, packed)
	}
	files[at+".bin"], files[at+".js"] = packed, script(name, packed)
	return at, nil
}

// payload is what a script loads.
type payload struct {
	name, told string // told tells its content, beside the name
	read       func() ([]byte, error)
}

func payloadOf(name string, b []byte) payload {
	return payload{name, published.Sum(b), func() ([]byte, error) { return b, nil }}
}

// mostNamed is how many shards of words faultleaf.js names, which every page waits for: as many as 20,000 notes have.
const mostNamed = 128

// run adds the scripts, the browser binary and the index under names that carry
// a hash of their content, and faultleaf.js, which names them. put adds what a
// script loads, as pack does.
func run(files Files, index *build.Files, binary core.Core, bench []byte, shop calc.Shop, put func(payload) (at string, err error)) error {
	named := func(name, ext string, b []byte) string {
		at := hashed(name, b) + ext
		files[at] = b
		return at
	}
	join := func(names []string) ([]byte, error) {
		var all []byte
		for _, name := range names {
			b, err := templates.Files.ReadFile(path.Join("script", name))
			if err != nil {
				return nil, err
			}
			all = append(all, b...)
		}
		return told.ReplaceAll(all, nil), nil
	}
	app, err := join(templates.Scripts)
	if err != nil {
		return err
	}
	app = append(circuit.Script(), app...)
	few, err := join(templates.FewScripts)
	if err != nil {
		return err
	}
	worker, err := join(templates.WorkerScripts)
	if err != nil {
		return err
	}
	worker = slices.Concat(told.ReplaceAll(binary.Script, nil), []byte("\n"), worker)
	names := struct {
		App      string            `json:"app"`
		Few      string            `json:"few"`
		Go       string            `json:"go"`
		Worker   string            `json:"worker"` // its script: from a blob it starts at once, and from disk it may have no file
		Payloads map[string]string `json:"payloads"`
		Words    [][2]string       `json:"words"` // the first word and the name of each shard of the search's words; none where there are many
		Shop     calc.Shop         `json:"shop"`  // what the calculators in the page take from it
	}{Shop: shop, App: named("app", ".js", app), Few: named("few", ".js", few), Go: named("go", ".js", binary.Script), Worker: string(worker), Payloads: map[string]string{}}
	seen, err := json.Marshal(looks.Drawings())
	if err != nil {
		return err
	}
	for _, p := range []payload{
		{"core", binary.Wasm.Key, binary.Wasm.Read}, {"find", binary.Find.Key, binary.Find.Read}, {"trace", binary.Trace.Key, binary.Trace.Read},
		payloadOf("bench", bench), payloadOf("looks", seen), payloadOf("dictionary", index.Dictionary),
	} {
		if names.Payloads[p.name], err = put(p); err != nil {
			return err
		}
	}
	if len(index.Words) <= mostNamed {
		for _, w := range index.Words {
			names.Words = append(names.Words, [2]string{w.First, w.Name})
		}
	}
	for name := range index.Shards {
		if _, err := put(payload{name, name, func() ([]byte, error) { return index.Shard(name) }}); err != nil {
			return err
		}
	}
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	start, err := templates.Files.ReadFile("script/start.js")
	if err != nil {
		return err
	}
	files["faultleaf.js"] = append([]byte("var faultleafFiles = "+string(list)+";\n"), start...)
	return nil
}

// script carries a payload as a page from disk loads it.
func script(name string, packed []byte) []byte {
	return []byte("faultleafPayload(\"" + name + "\",\"" + base64.StdEncoding.EncodeToString(packed) + "\");\n")
}
