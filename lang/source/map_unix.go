//go:build unix

package source

import (
	"os"
	"syscall"
)

// MapFile gives the bytes of a file without reading them all. They must not be
// written to, and stay valid when the file is removed, until [UnmapFile]. The
// file must be one that nobody shortens in place.
func MapFile(name string) ([]byte, error) {
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

// UnmapFile ends the use of what MapFile gave.
func UnmapFile(b []byte) {
	if b != nil {
		_ = syscall.Munmap(b) // it fails only for what was never mapped
	}
}

// canMap says whether files are mapped, and not read whole.
const canMap = true
