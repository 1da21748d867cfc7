package visit

import (
	"encoding/json"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// BenchmarkPeers prints what a key costs libraries for searching at large, in the same
// browser, on the same notes' texts and for the same questions as BenchmarkSearch, twelve hits
// each: SQLite's FTS5 in WebAssembly, minisearch and lunr. They are no part of this project; it
// skips what is not there:
//
//	npm --prefix PEERS install minisearch lunr @sqlite.org/sqlite-wasm
//	FAULTLEAF_PEERS=PEERS FAULTLEAF_NOTES=SHOP/content go test ./internal/visit -run xxx -bench Peers -benchtime 1x
//
// Each indexes titles and whole texts of the notes before anything is measured. Each key's
// best of three rounds counts.
func BenchmarkPeers(b *testing.B) {
	peers, content := os.Getenv("FAULTLEAF_PEERS"), os.Getenv("FAULTLEAF_NOTES")
	if peers == "" || content == "" {
		b.Skip("FAULTLEAF_PEERS names no folder with the libraries, or FAULTLEAF_NOTES no notes")
	}
	browser(b)
	type text struct {
		ID    int    `json:"id"`
		Title string `json:"title"`
		Text  string `json:"text"`
	}
	var texts []text
	err := filepath.WalkDir(content, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(p) != ".md" {
			return err
		}
		words, err := os.ReadFile(p)
		texts = append(texts, text{len(texts), strings.ReplaceAll(strings.TrimSuffix(d.Name(), ".md"), "-", " "), string(words)})
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	mux := http.NewServeMux()
	mux.Handle("/of/", http.StripPrefix("/of/", http.FileServer(http.Dir(filepath.Join(peers, "node_modules")))))
	mux.HandleFunc("/texts.json", func(w http.ResponseWriter, _ *http.Request) { _ = json.NewEncoder(w).Encode(texts) })
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		_, _ = w.Write([]byte("<!doctype html><title>peers</title>"))
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	var questions []string
	for _, q := range typed {
		for i := range q {
			questions = append(questions, q[:i+1])
		}
	}
	list, err := json.Marshal(questions)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for _, peer := range []struct{ name, file, open string }{
			{"FTS5", "@sqlite.org/sqlite-wasm/index.mjs", openFTS5},
			{"minisearch", "minisearch/dist/umd/index.js", openMinisearch},
			{"lunr", "lunr/lunr.js", openLunr},
		} {
			if _, err := os.Stat(filepath.Join(peers, "node_modules", filepath.FromSlash(peer.file))); err != nil {
				b.Logf("%s is not there: %v", peer.name, err)
				continue
			}
			v := visitSite(b, peers, false)
			var all [][]float64
			v.do(chromedp.Navigate(server.URL+"/"), chromedp.Evaluate(`(async () => {
				const load = (at) => new Promise((done, failed) => { const s = document.createElement('script'); s.src = '/of/' + at; s.onload = done; s.onerror = failed; document.head.append(s); });
				const texts = await (await fetch('/texts.json')).json();
				const ask = await (async () => {`+peer.open+`})();
				const rounds = [];
				for (let r = 0; r < 4; r++) rounds.push(`+string(list)+`.map((q) => { const t = performance.now(); ask(q); return performance.now() - t; }));
				return rounds;
			})()`, &all, awaiting))
			best := all[1]
			for _, took := range all[2:] {
				for i := range best {
					best[i] = min(best[i], took[i])
				}
			}
			slices.Sort(best)
			b.ReportMetric(best[len(best)/2], "ms-key-"+peer.name+"-median")
			b.ReportMetric(best[len(best)*95/100], "ms-key-"+peer.name+"-p95")
			_ = chromedp.Cancel(v.Context)
		}
		b.ReportMetric(0, "ns/op")
	}
}

// What opens each peer, and gives what asks it. The last word may be unfinished; any of the
// words may be missing in a note.
const (
	openFTS5 = `
		const sqlite = await (await import('/of/@sqlite.org/sqlite-wasm/index.mjs')).default({print: () => {}, printErr: () => {}});
		const db = new sqlite.oo1.DB(':memory:');
		db.exec("CREATE VIRTUAL TABLE notes USING fts5(title, text, prefix='1 2 3', tokenize='porter')");
		db.transaction(() => { const put = db.prepare('INSERT INTO notes(rowid, title, text) VALUES (?, ?, ?)'); for (const t of texts) put.bind([t.id + 1, t.title, t.text]).stepReset(); put.finalize(); });
		const find = db.prepare('SELECT rowid, title FROM notes WHERE notes MATCH ? ORDER BY rank LIMIT 12');
		return (q) => { const words = q.toLowerCase().match(/[a-z0-9]+/g); if (!words) return []; find.bind([words.map((w) => '"' + w + '"').join(' OR ') + '*']); const out = []; while (find.step()) out.push(find.get([])); find.reset(); return out; };`
	openMinisearch = `
		await load('minisearch/dist/umd/index.js');
		const mini = new MiniSearch({fields: ['title', 'text'], storeFields: ['title']});
		mini.addAll(texts);
		return (q) => mini.search(q, {prefix: (term, i, terms) => i === terms.length - 1, fuzzy: false}).slice(0, 12);`
	openLunr = `
		await load('lunr/lunr.js');
		const index = lunr(function () { this.ref('id'); this.field('title'); this.field('text'); for (const t of texts) this.add(t); });
		return (q) => { const words = q.toLowerCase().match(/[a-z0-9]+/g) || []; return index.query((all) => { words.forEach((w, i) => { all.term(w, {usePipeline: true}); if (i === words.length - 1) all.term(w, {usePipeline: false, wildcard: lunr.Query.wildcard.TRAILING}); }); }).slice(0, 12); };`
)
