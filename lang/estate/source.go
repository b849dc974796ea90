package estate

// A Span is a run of bytes in a file, from Start up to but not including End.
// Line and column are worked out from the text when something is printed.
type Span struct{ Start, End int32 }

// A Range is a span in a named file.
type Range struct {
	File string // slash-separated, relative to the estate's root
	Span
}

// IsZero reports whether r points nowhere.
func (r Range) IsZero() bool { return r == Range{} }

// A Source says where a thing is declared.
type Source struct {
	File  string
	Name  Span // its label, or the block's keyword where it has none
	Block Span // from the keyword to the closing brace
	Attrs []AttrSpan
}

// An AttrSpan is where one attribute of a block stands.
type AttrSpan struct {
	Name  string
	Value Span // the expression behind "="
}

// At gives the place of the thing's name.
func (s *Source) At() Range { return Range{s.File, s.Name} }

// Whole gives the place of the whole block.
func (s *Source) Whole() Range { return Range{s.File, s.Block} }

// Attr gives the place of the value of the named attribute, or of the thing's
// name where the attribute is not written.
func (s *Source) Attr(name string) Range {
	for i := range s.Attrs {
		if s.Attrs[i].Name == name {
			return Range{s.File, s.Attrs[i].Value}
		}
	}
	return s.At()
}

// Has reports whether the attribute is written in the block.
func (s *Source) Has(name string) bool {
	for i := range s.Attrs {
		if s.Attrs[i].Name == name {
			return true
		}
	}
	return false
}
