package system_test

import (
	"testing"

	"cagenut/lang/quantity"
	"cagenut/lang/system"
	"cagenut/testdata/outside"
)

// Diameters over the thread. 10-32 and 12-24: ANSI B1.1 (0.190 and 0.216 in;
// help pages that print 0.210 in for 12-24 and 0.228 in for M6 are wrong); M5
// and M6: ISO 261. All from memory.
func TestThreadDiameters(t *testing.T) {
	want := map[string]string{"10-32": "4.826 mm", "12-24": "5.4864 mm", "m5": "5 mm", "m6": "6 mm"}
	for _, thread := range system.Threads() {
		if got := thread.Major; got != length(t, want[thread.Name]) {
			t.Errorf("%s: %v over the thread, want %s", thread.Name, got, want[thread.Name])
		}
		if thread.Confidence.Decides() {
			t.Errorf("%s: a remembered figure decides", thread.Name)
		}
		got, ok := system.ThreadByName(thread.Name)
		if !ok || got != thread {
			t.Errorf("ThreadByName(%q) = %v, %v", thread.Name, got, ok)
		}
	}
	if _, ok := system.ThreadByName("square"); ok {
		t.Error(`ThreadByName("square") gives a thread`)
	}
}

func TestThreadsAgainstGNUUnits(t *testing.T) {
	units := outside.Need(t, "units")
	for _, tt := range []struct{ from, thread string }{
		{"0.190 inch", "10-32"}, {"0.216 inch", "12-24"},
		// The number sizes of screws step by 0.013 in from 0.060 in.
		{"0.060 inch + 10 0.013 inch", "10-32"}, {"0.060 inch + 12 0.013 inch", "12-24"},
	} {
		thread, _ := system.ThreadByName(tt.thread)
		want := quantity.Number(thread.Major.Millimetres(), 6)
		if got := outside.Run(t, "", units, "--terse", "--digits", "12", tt.from, "mm"); got != want {
			t.Errorf("units: %s is %s mm, ours for %s %s", tt.from, got, tt.thread, want)
		}
	}
}
