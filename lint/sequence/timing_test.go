package sequence_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence"
)

func TestTimings(t *testing.T) {
	sheet := "\ufeffnumber,task,count,minutes,measured_minutes,remark\r\n" +
		"1,verify,1,2,3,\r\n2,verify,1,2,5,\"dark, again\"\r\n3,verify,1,2,4,\r\n4,verify,1,2,,not measured\r\n" +
		"5,cord_off,4,2.8,\"6,0\",\r\n6,fit_slides,1,12,20,\r\n"
	timings, err := sequence.ReadTimings(strings.NewReader(sheet), "night.csv")
	if err != nil {
		t.Fatal(err)
	}
	minute := func(f float64) quantity.Duration { return quantity.Of(f, quantity.Minute) }
	got := sequence.Calibrate(timings, sequence.Pace(&estate.Estate{}))
	want := []sequence.Calibration{
		{Task: "verify", Lines: 3, Present: minute(2), Median: minute(4), Low: minute(3), High: minute(5), Enough: true},
		{Task: "cord_off", Lines: 1, Present: minute(0.7), Median: minute(1.5), Low: minute(1.5), High: minute(1.5)},
		{Task: "fit_slides", Lines: 1, Present: minute(12), Median: minute(20), Low: minute(20), High: minute(20)},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestTimingsSayEverythingWrong(t *testing.T) {
	for _, tt := range []struct{ name, sheet, want string }{
		{"empty", "", "n.csv is empty; it needs a first line of column names, with task and measured_minutes among them"},
		{"no column", "task,minutes\nverify,2\n", `n.csv has no column "measured_minutes"; write its name in the first line, as window --format csv does`},
		{"lines", "task,count,measured_minutes\nVerify,1,3\nwalk-up,1,3\nverify,0,3\nverify,1,soon\nverify,1,-4\nverify,1,NaN\n", `n.csv:2: "Verify" is the name of no task; did you mean verify?
n.csv:3: "walk-up" is the name of no task; did you mean walk_up?
n.csv:4: "0" in the column count is no whole number from 1
n.csv:5: "soon" are no minutes; write a number such as 12 or 7.5
n.csv:6: "-4" are no minutes; write a number such as 12 or 7.5
n.csv:7: "NaN" are no minutes; write a number such as 12 or 7.5`},
	} {
		_, err := sequence.ReadTimings(strings.NewReader(tt.sheet), "n.csv")
		if err == nil || err.Error() != tt.want {
			t.Errorf("%s: got\n%v\nwant\n%s", tt.name, err, tt.want)
		}
	}
}
