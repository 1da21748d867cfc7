//go:build js && wasm

package door

import "faultleaf/cmd/browser/internal/serve"

// Serve has a page call functions by their names.
func Serve(answers map[string]func(string) string) {
	serve.Page(func(what string, args [][]byte) string {
		answer, ok := answers[what]
		if !ok || len(args) != 1 {
			return `{"error":{"says":"one text is asked for"}}`
		}
		return Safely(func() string { return answer(string(args[0])) })
	})
}
