package published

import (
	"os"
	"runtime"
	"sync"
)

// settleEach makes each file or folder safe, some at a time.
func settleEach(root *os.Root, names []string) error {
	var (
		wait  sync.WaitGroup
		mu    sync.Mutex
		first error
		turns = make(chan struct{}, 16)
	)
	for _, name := range names {
		wait.Add(1)
		turns <- struct{}{}
		go func() {
			defer func() { <-turns; wait.Done() }()
			f, err := open(root, name)
			if err == nil {
				err = f.Sync()
				f.Close()
			}
			if err != nil {
				mu.Lock()
				defer mu.Unlock()
				if first == nil {
					first = err
				}
			}
		}()
	}
	wait.Wait()
	return first
}

// open opens a file so that it can be synced; a folder need not be on Windows.
func open(root *os.Root, name string) (*os.File, error) {
	if runtime.GOOS == "windows" {
		return root.OpenFile(name, os.O_RDWR, 0)
	}
	return root.Open(name)
}

// settleFolders makes the renames that were done in folders safe.
func settleFolders(root *os.Root, folders []string) error {
	if runtime.GOOS == "windows" { // a folder cannot be synced there
		return nil
	}
	return settle(root, folders)
}
