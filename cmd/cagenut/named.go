package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// inDir gives a path of the user from where the program was called.
func (p *program) inDir(name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(p.dir, name)
}

// readNamed reads a file that the user named. One that cannot be read is a
// mistake of the call, whatever the command.
func (p *program) readNamed(name string) ([]byte, error) {
	data, err := os.ReadFile(p.inDir(name))
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err // the name is told as the user wrote it
		}
		return nil, usagef("%s cannot be read: %v", name, err)
	}
	return data, nil
}
