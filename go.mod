module faultleaf

go 1.26.0

require (
	github.com/alecthomas/chroma/v2 v2.27.0
	// bleve 2.6 does not build for js/wasm (its util package imports bbolt), and
	// the index is read in the browser with the packages of this version.
	github.com/blevesearch/bleve/v2 v2.5.7
	github.com/blevesearch/bleve_index_api v1.2.11
	github.com/blevesearch/scorch_segment_api/v2 v2.3.13
	github.com/blevesearch/snowballstem v0.9.0
	// zapx 16.3 changes InitSegmentBase, by which the index is opened in memory.
	github.com/blevesearch/vellum v1.1.0
	github.com/blevesearch/zapx/v16 v16.2.8
	// chromedp 0.14 and the protocol package it was made with: later ones change
	// the form of every action, and are young.
	github.com/chromedp/cdproto v0.0.0-20250724212937-08a3db8b4327
	github.com/chromedp/chromedp v0.14.2
	github.com/goccy/go-yaml v1.19.2
	github.com/rogpeppe/go-internal v1.16.0
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.0.9
	github.com/yuin/goldmark v1.8.7
)

require (
	github.com/RoaringBitmap/roaring/v2 v2.4.5 // indirect
	github.com/bits-and-blooms/bitset v1.22.0 // indirect
	github.com/blevesearch/geo v0.2.4 // indirect
	github.com/blevesearch/go-faiss v1.0.26 // indirect
	// mmap-go below 1.2 does not build for js/wasm.
	github.com/blevesearch/mmap-go v1.2.0 // indirect
	github.com/chromedp/sysutil v1.1.0 // indirect
	github.com/dlclark/regexp2/v2 v2.2.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/gobwas/httphead v0.1.0 // indirect
	github.com/gobwas/pool v0.2.1 // indirect
	github.com/gobwas/ws v1.4.0 // indirect
	github.com/golang/snappy v0.0.4
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/json-iterator/go v0.0.0-20171115153421-f7279a603ede // indirect
	github.com/mschoch/smat v0.2.0 // indirect
	golang.org/x/sys v0.50.0
	golang.org/x/tools v0.52.0 // indirect
)

require rsc.io/qr v0.2.0

require (
	github.com/gofrs/flock v0.13.0
	golang.org/x/text v0.44.0
)

require (
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	golang.org/x/crypto v0.59.0
	golang.org/x/image v0.48.0
)

require github.com/fsnotify/fsnotify v1.10.1
