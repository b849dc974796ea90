// Package review prints one page about a change, for whoever must decide on it:
// what it brings and cures, what it does unit by unit, what it does to mass,
// space, heat and feeds, what could not be checked, and what else wants the
// same place.
//
// Read [Page] first: it is what both forms are given. [Markdown] is for a
// comment on a platform, and stays within its size; [HTML] is one file that
// needs no other. The package prints what it is given and judges nothing.
package review
