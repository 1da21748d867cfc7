package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"faultleaf/internal/bigshop"
)

// inBrowser are the rows of the table of the search in a browser: what
// internal/visit's BenchmarkSearch reports, and the goals with a shop of 20,000 notes
// and with the starter's.
var inBrowser = []struct {
	says, reports string
	per           float64 // of what is reported in one of what is printed
	big, starter  string  // goals
}{
	{"first result, cold, over HTTP, ms", "ms-first-result-http", 1, "400", "250"},
	{"the best of five", "ms-first-result-http-best", 1, "", ""},
	{"first result, cold, from disk, ms", "ms-first-result-disk", 1, "600", ""},
	{"the best of five", "ms-first-result-disk-best", 1, "", ""},
	{"fetched before it, MB", "kB-before-first-result", 1000, "3", ""},
	{"a key with its shards held, ms: median", "ms-key-median", 1, "", ""},
	{"95 of 100", "ms-key-p95", 1, "10", ""},
	{"first fetch of a shard, ms: 95 of 100", "ms-fetch-of-a-shard-p95", 1, "150", ""},
	{"what the tab holds, MB", "MB-tab", 1, "250", ""},
	{"a key of FTS5 in WebAssembly, ms: median", "ms-key-FTS5-median", 1, "", ""},
	{"95 of 100", "ms-key-FTS5-p95", 1, "", ""},
	{"a key of minisearch: median", "ms-key-minisearch-median", 1, "", ""},
	{"95 of 100", "ms-key-minisearch-p95", 1, "", ""},
	{"a key of lunr: median", "ms-key-lunr-median", 1, "", ""},
	{"95 of 100", "ms-key-lunr-p95", 1, "", ""},
}

// browsers prints what the search costs in a browser, with a shop of n notes and with
// the starter's.
func browsers(n int) error {
	dir, err := os.MkdirTemp("", "measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b := &bench{filepath.Join(dir, "shop"), filepath.Join(dir, "site"), filepath.Join(dir, "faultleaf")}
	if out, err := exec.Command("go", "build", "-o", b.program, "./cmd/faultleaf").CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	if err := bigshop.Write(b.shop, os.DirFS("."), n, 1); err != nil {
		return err
	}
	starter := filepath.Join(dir, "starter")
	if _, err := b.do("publish", "--from", ".", "--to", starter); err != nil {
		return err
	}
	if _, err := b.publish(); err != nil {
		return err
	}
	big, err := benched("Search|Peers", "FAULTLEAF_SITE="+b.site, "FAULTLEAF_NOTES="+filepath.Join(b.shop, "content"))
	if err != nil {
		return err
	}
	small, err := benched("Search", "FAULTLEAF_SITE="+starter)
	if err != nil {
		return err
	}
	fmt.Printf("%s, in Chromium\n\n| | goal | %d notes | goal | the starter |\n|---|---|---|---|---|\n", time.Now().Format(time.DateOnly), n)
	for _, row := range inBrowser {
		x, there := big[row.reports]
		if !there {
			continue // the peers are not here
		}
		fmt.Printf("| %s | %s | %.3g | %s | ", row.says, row.big, x/row.per, row.starter)
		if y, there := small[row.reports]; there {
			fmt.Printf("%.3g ", y/row.per)
		}
		fmt.Println("|")
	}
	return nil
}

// benched runs benchmarks of internal/visit and gives what they report, by unit.
func benched(which string, env ...string) (map[string]float64, error) {
	cmd := exec.Command("go", "test", "-run", "xxx", "-bench", "^Benchmark("+which+")$", "-benchtime", "1x", "-timeout", "20m", "./internal/visit")
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w\n%s", err, out)
	}
	got := map[string]float64{}
	words := strings.Fields(string(out))
	for i := 1; i < len(words); i++ {
		if x, err := strconv.ParseFloat(words[i-1], 64); err == nil {
			got[words[i]] = x
		}
	}
	if len(got) < len(inBrowser)/2 {
		return nil, fmt.Errorf("the browser told too little: is Chromium installed?\n%s", out)
	}
	return got, nil
}
