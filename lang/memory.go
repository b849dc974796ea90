package lang

import (
	"os"
	"runtime"
	"runtime/debug"
	"sync"

	"cagenut/lang/source"
)

// While files are read most memory is garbage within a millisecond, so it is
// collected by how much there is of it and not by how much it grew: measured a
// third quicker than the default on ten thousand files. Users who set GOGC or
// GOMEMLIMIT know better and are left alone.
//
// An estate takes some four times the bytes of its text. A limit below what is
// alive would have the collector run without end, so it grows with the text.
const (
	memoryLeast = 384 << 20
	memoryEach  = 5 // for each byte of text
	// smallText is what is read without touching the collector at all.
	smallText = 8 << 20
)

// memoryFor gives the soft limit for an estate of that many bytes of text.
func memoryFor(size int64) int64 { return max(memoryLeast, memoryEach*size) }

// textSize gives how many bytes the files have, about.
func textSize(files []source.File) int64 {
	var size int64
	for _, f := range files {
		if f.Size >= 0 {
			size += f.Size
		} else {
			size += 8 << 10
		}
	}
	return size
}

var bounding struct {
	sync.Mutex
	loads   int // how many are bounded now
	limit   int64
	percent int
}

// What the runtime does where nobody says otherwise, and what a program does
// that is done soon: it has no garbage collected before the heap has 64 MB.
const (
	usualPercent = 100
	latePercent  = 16 * usualPercent // of the 4 MB that the runtime begins with
)

// CollectLate keeps the garbage collector away from a program that is done
// before it would help. From the first collection on things are as usual. It
// does nothing where the user has set GOGC or GOMEMLIMIT.
func CollectLate() {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	debug.SetGCPercent(latePercent)
	type sentinel struct{ _ *byte }
	runtime.SetFinalizer(new(sentinel), func(*sentinel) {
		b := &bounding
		b.Lock()
		defer b.Unlock()
		if b.loads > 0 {
			b.percent = usualPercent
			return
		}
		debug.SetGCPercent(usualPercent)
	})
}

// boundMemory sets the garbage collector for loading that many bytes of text,
// and gives what puts it back when no load needs it any more.
func boundMemory(size int64) (restore func()) {
	if size < smallText || os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	b := &bounding
	b.Lock()
	defer b.Unlock()
	limit := debug.SetMemoryLimit(memoryFor(size))
	percent := debug.SetGCPercent(-1)
	if b.loads == 0 {
		b.limit, b.percent = limit, percent
	}
	b.loads++
	return func() {
		b.Lock()
		defer b.Unlock()
		if b.loads--; b.loads == 0 {
			debug.SetGCPercent(b.percent)
			debug.SetMemoryLimit(b.limit)
		}
	}
}

// BoundMemory sets a soft limit for a program that works on an estate of that
// many bytes of text once it is loaded: what is left of loading then goes before
// the program grows by as much again. It does nothing where the user has set
// GOGC or GOMEMLIMIT.
func BoundMemory(size int64) {
	if size < smallText || os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	debug.SetMemoryLimit(memoryFor(size) + memoryFor(size)/16)
}
