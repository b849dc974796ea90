// Package source says where the text of an estate comes from: a folder, a
// commit, the index of a repository, or memory.
//
// Read [Tree] first: it lists the files of an estate and reads them. [Locate]
// finds the estate and its repository from a folder; [Place] then gives trees
// by revision. [Differ] compares two trees by hash, and [Place.History] says
// in which commits files changed.
//
// Repositories are read by go-git as a reader of objects only. References,
// revisions, trees, the index, merge bases and history are read here, because
// the library answers several of them wrongly. What the library cannot read is
// asked of the installed git, plumbing commands only, with hooks, lazy
// fetching and optional locks off; [Repository.Via] says which way was taken.
//
// The package reads and never writes. It knows nothing of HCL: a tree offers
// every .hcl file below the root, and the package lang decides which to skip.
package source
