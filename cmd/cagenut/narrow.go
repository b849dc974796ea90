package main

import (
	"bytes"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"cagenut/render/style"
)

// tableWidth is what tables and pages are laid out for; a narrower terminal gets
// their lines broken between words.
const tableWidth = 80

// A narrower breaks lines that are wider than a narrow terminal. It passes on
// what programs read, as it is.
type narrower struct {
	to    io.Writer
	width int // of the terminal; 0 where nothing is broken
	rest  []byte
}

// narrow begins to break what is written to w, where that is a terminal too
// narrow for tables.
func narrow(w io.Writer, width int) *narrower {
	if width >= tableWidth {
		width = 0
	}
	return &narrower{to: w, width: width}
}

// suit stops breaking lines for a command that prints something else than
// text for people, and sees to ASCII there where it was asked for.
func (p *program) suit(cmd *cobra.Command) {
	f := cmd.Flags().Lookup("format")
	if f != nil && f.Value.String() != "text" || cmd.Name() == "tidy" {
		p.narrow.width = 0
	}
	if f != nil && p.ascii {
		p.escape.code = escapes[f.Value.String()]
	}
}

func (n *narrower) Write(b []byte) (int, error) {
	if n.width <= 0 {
		return n.to.Write(b)
	}
	n.rest = append(n.rest, b...)
	end := bytes.LastIndexByte(n.rest, '\n') + 1
	var out strings.Builder
	for line := range strings.Lines(string(n.rest[:end])) {
		for _, part := range style.Narrow(strings.TrimSuffix(line, "\n"), n.width) {
			out.WriteString(part + "\n")
		}
	}
	n.rest = append(n.rest[:0], n.rest[end:]...)
	_, err := io.WriteString(n.to, out.String())
	return len(b), err
}

// flush writes what has no line end.
func (n *narrower) flush() error {
	if len(n.rest) == 0 {
		return nil
	}
	_, err := io.WriteString(n.to, strings.Join(style.Narrow(string(n.rest), n.width), "\n"))
	n.rest = nil
	return err
}
