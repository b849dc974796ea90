package lang

import (
	"runtime/debug"
	"testing"
)

func TestBoundMemoryIsPutBackByTheLast(t *testing.T) {
	t.Setenv("GOGC", "")
	t.Setenv("GOMEMLIMIT", "")
	percent, limit := debug.SetGCPercent(100), debug.SetMemoryLimit(-1)
	defer debug.SetGCPercent(percent)
	seen := func() (int, int64) {
		p := debug.SetGCPercent(100)
		debug.SetGCPercent(p)
		return p, debug.SetMemoryLimit(-1)
	}
	boundMemory(smallText - 1)()
	first := boundMemory(smallText)
	second := boundMemory(100 << 20)
	if p, l := seen(); p != -1 || l != 500<<20 {
		t.Errorf("while two load, the percentage is %d and the limit %d MB, want -1 and 500", p, l>>20)
	}
	first()
	if p, _ := seen(); p != -1 {
		t.Errorf("while one still loads, the percentage is %d, want -1", p)
	}
	second()
	if p, l := seen(); p != 100 || l != limit {
		t.Errorf("when all have loaded, the percentage is %d and the limit %d, want 100 and %d as before", p, l, limit)
	}
}
