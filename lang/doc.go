// Package lang reads the text of an estate: HCL in, the model of lang/estate
// out, and with it what is wrong with the text, each mistake at the smallest
// range that shows it.
//
// [Load] reads a tree of files. [Schema] describes the language: every block
// and attribute with its kind, a sentence and an example, from the same tables
// that the reader works with. [Format] lays the text of a file out. [Policies]
// reads files that several estates share.
//
// # How it works
//
// A worker a core reads a file, parses it, walks the syntax tree by hand
// straight into the model, and drops the tree (walk.go). A file of literals and
// names is parsed by plain.go, any other by the HCL library, after a look at
// whether it would take the stack or the memory (bounds.go); the JSON form is
// turned into the tree of the native form (json.go). Nothing is evaluated that
// is a literal or a name (reader.go, figures.go, at.go); the rest waits until
// all files are read (evaluate.go). What a file declares waits for the others as
// bytes, which can also be kept from run to run (codec.go, store.go). Then, in
// the order of paths, the parts are joined (load.go), names are looked up
// (resolve.go, refer.go), stacks and layouts are laid out (layout.go). The order
// in which files were read therefore shows nowhere.
//
// What the HCL library says of a mistake is put into our words, and what
// follows from another mistake is left out, in syntax.go; every message stands
// in a fixture under testdata.
//
// # How to add to the language
//
// An attribute is a field of the model and one line in a table (table_*.go):
//
//	figure("post_span", `"740 mm"`, "what it is, in one sentence", func(f *estate.Frame) figureOfLength { return &f.PostSpan }),
//
// The first word is what the attribute takes, one of the functions of attr.go:
// figure (a quantity that may be unknown or carry its basis), plain (a quantity
// without a basis), freeText, freeTexts, whole, wholeFigure, share, yesNo,
// word and words (an enumeration of the model), oneOf and someOf (words kept
// as text), date, clock, units, unitRanges, panelSystem, ref and refs (names of
// other things, looked up for you), scopes, expression; or field, with a reader
// of its own, such as readDraw. After it come the name, an example, a sentence
// and the field. Add .required() where nothing can be done without it, and
// .otherwise("...") to tell what holds where it is not written; what is usual
// is filled in by the block's last function.
//
// A block is a slice of pointers in estate.Estate, a call of top with its
// lines, and its name in the list of init in schema.go. A block inside another
// is given to its parent's with. Messages, required attributes, the language
// reference, completion and the JSON form follow from the table.
//
// The package holds no rules: what is written well and still wrong, such as a
// name that is declared nowhere, is for lint to report.
package lang
