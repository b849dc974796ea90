//go:build !unix

package lang

import "os"

func mapFile(name string) ([]byte, error) { return os.ReadFile(name) }
