//go:build unix

package lang

import (
	"os"
	"syscall"
)

// mapFile gives the bytes of a file without reading them all. They stay valid
// when the file is removed; nobody shortens a file of the store in place.
func mapFile(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || info.Size() == 0 {
		return nil, err
	}
	return syscall.Mmap(int(f.Fd()), 0, int(info.Size()), syscall.PROT_READ, syscall.MAP_SHARED)
}
