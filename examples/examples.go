// Package examples holds invented estates: the one that the demo builds, with
// its history, and the same estate as files to read and copy from.
//
// Every company, person and serial number in it is made up.
package examples

import (
	"bufio"
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"net/mail"
	"strings"
	"time"

	"golang.org/x/tools/txtar"
)

//go:embed ferry ferry-history observatory touring
var files embed.FS

// Ferry gives the files of the ferry line's estate as they are on its main
// branch.
func Ferry() fs.FS { return folder("ferry") }

// Observatory gives the estate of a receiver laboratory: a rack used from both
// faces, half-width units, and a frame on 25 mm practice. Its comments mark the
// mistakes in it.
func Observatory() fs.FS { return folder("observatory") }

// Touring gives the estate of a touring sound company: road cases. Its
// comments mark the mistakes in it.
func Touring() fs.FS { return folder("touring") }

func folder(name string) fs.FS {
	sub, err := fs.Sub(files, name)
	if err != nil {
		panic(err) // the folder is embedded above
	}
	return sub
}

// A Commit is one step of an estate's history.
type Commit struct {
	Branch  string
	From    string // branch that this one starts at, on its first commit
	Author  mail.Address
	Time    time.Time
	Message string
	Files   []txtar.File // files written by the commit, whole
}

// FerryHistory gives the commits of the ferry line's repository, oldest first:
// those of main, then one branch for each change that is under review.
func FerryHistory() ([]Commit, error) {
	entries, err := files.ReadDir("ferry-history") // sorted by name
	if err != nil {
		return nil, err
	}
	var commits []Commit
	for _, entry := range entries {
		text, err := files.ReadFile("ferry-history/" + entry.Name())
		if err != nil {
			return nil, err
		}
		c, err := parseCommit(txtar.Parse(text))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", entry.Name(), err)
		}
		commits = append(commits, c)
	}
	return commits, nil
}

// parseCommit reads "key: value" lines, an empty line and the message from the
// archive's comment.
func parseCommit(a *txtar.Archive) (Commit, error) {
	c := Commit{Files: a.Files}
	head, message, _ := bytes.Cut(a.Comment, []byte("\n\n"))
	c.Message = strings.TrimSpace(string(message)) + "\n"
	lines := bufio.NewScanner(bytes.NewReader(head))
	for lines.Scan() {
		key, value, _ := strings.Cut(lines.Text(), ": ")
		var err error
		switch key {
		case "branch":
			c.Branch = value
		case "from":
			c.From = value
		case "author":
			var who *mail.Address
			if who, err = mail.ParseAddress(value); err == nil {
				c.Author = *who
			}
		case "date":
			c.Time, err = time.Parse(time.RFC3339, value)
		default:
			err = fmt.Errorf("unknown key %q", key)
		}
		if err != nil {
			return c, err
		}
	}
	return c, nil
}
