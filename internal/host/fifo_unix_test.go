//go:build unix

package host

import "syscall"

func mkfifo(at string) error { return syscall.Mkfifo(at, 0o644) }
