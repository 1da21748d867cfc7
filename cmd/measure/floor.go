package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
)

// floor translates every note of a shop by goldmark alone and writes each into a file
// of a new folder, on all processors. No publishing can cost less, and it costs more in
// the same hours in which everything does: so the table tells each cost as a multiple
// of it too, which holds on another machine and at another hour.
func floor(shop, to string) error {
	content := filepath.Join(shop, "content")
	var files []string
	if err := filepath.WalkDir(content, func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(p, ".md") {
			files = append(files, p)
		}
		return err
	}); err != nil {
		return err
	}
	if err := os.Mkdir(to, 0o755); err != nil {
		return err
	}
	md := goldmark.New()
	one := func(file string) error {
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		var html bytes.Buffer
		if err := md.Convert(text, &html); err != nil {
			return err
		}
		name := strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(file, content), ".md"), string(filepath.Separator), "-")
		return os.WriteFile(filepath.Join(to, name+".html"), html.Bytes(), 0o644)
	}
	todo := make(chan string)
	var wait sync.WaitGroup
	failed := make([]error, runtime.GOMAXPROCS(0))
	for i := range failed {
		wait.Go(func() {
			for file := range todo {
				if err := one(file); err != nil && failed[i] == nil {
					failed[i] = err
				}
			}
		})
	}
	for _, file := range files {
		todo <- file
	}
	close(todo)
	wait.Wait()
	return errors.Join(failed...)
}
