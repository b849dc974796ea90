package sequence_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"cagenut/lang/estate"
	"cagenut/lang/quantity"
	"cagenut/lint/sequence"
	"cagenut/testdata/outside"
)

func at(t testing.TB, s string) time.Time {
	t.Helper()
	m, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A window from 23:40 to 04:20 has an hour less in the night in which clocks go
// forward, and one more where they go back. What the clock shows when is asked
// of coreutils' date, which reads the system's own copy of the IANA data.
func TestWindowsAcrossClockChanges(t *testing.T) {
	date := outside.Need(t, "date")
	for _, zone := range []string{"Europe/Tallinn", "America/St_Johns", "Australia/Lord_Howe", "Asia/Tokyo"} {
		site := &estate.Site{Name: "s", Zone: zone}
		e := &estate.Estate{Sites: []*estate.Site{site}, Windows: []*estate.Window{{
			Name: "night", Site: site, Days: []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"},
			Opens: 23*60 + 40, Closes: 4*60 + 20, Margin: 30 * quantity.Minute,
		}}}
		all, err := sequence.Occurrences(e, site, at(t, "2026-10-01T00:00:00Z"), 380)
		if err != nil {
			t.Fatal(err)
		}
		if len(all) < 380 {
			t.Fatalf("%s: %d nights", zone, len(all))
		}
		lengths := map[string]int{}
		var ask, want []string
		for _, o := range all {
			lengths[o.Length().String()]++
			for _, m := range []time.Time{o.Opens, o.Closes} {
				ask = append(ask, fmt.Sprintf("@%d", m.Unix()))
				want = append(want, m.Format("2006-01-02 15:04"))
			}
			if o.Opens.Format("15:04") != "23:40" || o.Closes.Format("15:04") != "04:20" {
				t.Errorf("%s: from %v to %v", zone, o.Opens, o.Closes)
			}
		}
		got := strings.Split(outside.Run(t, strings.Join(ask, "\n"), "/usr/bin/env", "TZ="+zone, date, "-f", "-", "+%Y-%m-%d %H:%M"), "\n")
		for i := range want {
			if i >= len(got) || got[i] != want[i] {
				t.Fatalf("%s: %s is %s by our clock, %s by date", zone, ask[i], want[i], got[i])
			}
		}
		switch zone {
		case "Europe/Tallinn", "America/St_Johns":
			if lengths["280 min"] < 370 || lengths["220 min"] != 1 || lengths["340 min"] != 1 {
				t.Errorf("%s: lengths %v, want one night of 220 min and one of 340", zone, lengths)
			}
		case "Australia/Lord_Howe": // half an hour only; spring twice in these days
			if lengths["250 min"] != 2 || lengths["310 min"] != 1 {
				t.Errorf("%s: lengths %v", zone, lengths)
			}
		case "Asia/Tokyo":
			if len(lengths) != 1 {
				t.Errorf("%s: lengths %v", zone, lengths)
			}
		}
	}
}

// A time that the clock jumps over begins at the jump; a time that it shows
// twice begins with the first and ends with the second.
func TestTimesThatDoNotExistOrExistTwice(t *testing.T) {
	site := &estate.Site{Name: "s", Zone: "Europe/Tallinn"}
	window := func(opens, closes int) *estate.Estate {
		return &estate.Estate{Windows: []*estate.Window{{Name: "w", Days: []string{"sun"}, Opens: estate.Clock(opens), Closes: estate.Clock(closes)}}}
	}
	for _, tt := range []struct {
		name          string
		from          string
		opens, closes int
		want          string
	}{
		// 2027-03-28: 03:00 becomes 04:00, which is 01:00 UTC.
		{"opens in the gap", "2027-03-27T00:00:00Z", 3*60 + 30, 5 * 60, "2027-03-28T01:00:00Z to 2027-03-28T02:00:00Z"},
		{"closes in the gap", "2027-03-27T00:00:00Z", 2 * 60, 3*60 + 30, "2027-03-28T00:00:00Z to 2027-03-28T01:00:00Z"},
		// 2026-10-25: 04:00 becomes 03:00, so 03:30 is 00:30 and 01:30 UTC.
		{"opens twice", "2026-10-24T00:00:00Z", 3*60 + 30, 5 * 60, "2026-10-25T00:30:00Z to 2026-10-25T03:00:00Z"},
		{"closes twice", "2026-10-24T00:00:00Z", 2 * 60, 3*60 + 30, "2026-10-24T23:00:00Z to 2026-10-25T01:30:00Z"},
	} {
		all, err := sequence.Occurrences(window(tt.opens, tt.closes), site, at(t, tt.from), 3)
		if err != nil || len(all) == 0 {
			t.Fatal(tt.name, err, all)
		}
		got := all[0].Opens.UTC().Format(time.RFC3339) + " to " + all[0].Closes.UTC().Format(time.RFC3339)
		if got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestFreezesAndUnknownZones(t *testing.T) {
	e := ferry(t, "main")
	ship := e.Sites[0]
	for _, s := range e.Sites {
		if s.Name == "ship" {
			ship = s
		}
	}
	all, err := sequence.Occurrences(e, ship, at(t, "2027-06-01T12:00:00+03:00"), 110)
	if err != nil {
		t.Fatal(err)
	}
	free, frozen := 0, 0
	for _, o := range all {
		// The berth opens on a Monday and closes on Tuesday: 14 June touches
		// the freeze that begins on the 15th.
		in := o.Closes.After(at(t, "2027-06-15T00:00:00+03:00")) && o.Opens.Before(at(t, "2027-09-06T00:00:00+03:00"))
		if in != (o.Frozen != nil) {
			t.Errorf("%v to %v: frozen %v", o.Opens, o.Closes, o.Frozen)
		}
		if o.Frozen != nil {
			frozen++
		} else {
			free++
		}
	}
	if free == 0 || frozen == 0 {
		t.Errorf("%d windows free, %d frozen", free, frozen)
	}
	ship.Zone = "Europe/Atlantis"
	if _, err := sequence.Occurrences(e, ship, time.Now(), 3); err == nil || !strings.Contains(err.Error(), strconv.Quote(ship.Zone)) {
		t.Errorf("got %v, want the zone named", err)
	}
}
