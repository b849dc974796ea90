//go:build !unix

package source

import "os"

// MapFile gives the bytes of a file. They must not be written to.
func MapFile(name string) ([]byte, error) { return os.ReadFile(name) }

// UnmapFile ends the use of what MapFile gave.
func UnmapFile([]byte) {}

// canMap says whether files are mapped, and not read whole.
const canMap = false
