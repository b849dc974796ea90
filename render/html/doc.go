// Package html prints pages for a browser and for paper: elevations with a list
// of what is mounted, and door sheets of A4.
//
// A page is one file that fetches nothing: style and pictures are in it. It
// follows the reader's choice of a light or dark screen, is light in print, and
// can be read with the keyboard and by a screen reader: each picture has a
// title and a description, and everything in it stands in a table as well.
package html
