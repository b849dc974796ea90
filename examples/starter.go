package examples

import (
	"embed"
	"io/fs"
)

//go:embed starter
var starter embed.FS

// StarterName is how the starter calls the estate.
const StarterName = "my-estate"

// Starter gives the files of a small estate with a remark beside everything
// that a beginner must decide, to begin one's own from.
func Starter() fs.FS {
	sub, err := fs.Sub(starter, "starter")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return sub
}
