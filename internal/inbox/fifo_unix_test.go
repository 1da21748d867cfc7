//go:build unix

package inbox

import "syscall"

func mkfifo(at string) error { return syscall.Mkfifo(at, 0o600) }
