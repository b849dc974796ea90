package source

import (
	"os"
	"syscall"
)

// lookAt says what the file system has on a file.
func lookAt(info os.FileInfo) look {
	l := look{size: info.Size(), mtime: info.ModTime().UnixNano()}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		l.ctime, l.inode = s.Ctim.Nano(), s.Ino
	}
	return l
}
