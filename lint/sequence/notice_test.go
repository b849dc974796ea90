package sequence_test

import (
	"strings"
	"testing"
	"time"

	"cagenut/lang/estate"
	"cagenut/lint"
	"cagenut/lint/sequence"
)

// found gives the messages of a rule's findings.
func found(p *sequence.Plan, rule string) (out []string) {
	for _, f := range p.Findings {
		if f.Rule == rule {
			out = append(out, f.Level.String()+": "+f.Message)
		}
	}
	return out
}

// asking gives a small change at a site that asks for something.
func asking(attrs string) string {
	return strings.Replace(racks(12, night("tue", "tue", ""), map[string][]string{"after x": {"new two 7"}}),
		`site "s" { zone = "Europe/Tallinn" }`, "site \"s\" {\n  zone = \"Europe/Tallinn\"\n"+attrs+"}", 1)
}

// The first Tuesday after Wednesday 25 November 2026 is 1 December, six days on.
func TestShortNotice(t *testing.T) {
	today := estate.NewDate(2026, time.November, 25)
	tests := []struct {
		name, attrs, from string
		today             estate.Date
		done              []int
		want              string
	}{
		{name: "none asked for", from: "2026-11-25T12:00:00Z", today: today},
		{name: "just kept", attrs: "  notice = 6\n", from: "2026-11-25T12:00:00Z", today: today},
		{
			name: "a day short", attrs: "  notice = 7\n", from: "2026-11-25T12:00:00Z", today: today,
			want: "warning: window.tue of 2026-12-01 is 6 days away, and site.s asks for 7 days of notice: plan from 2026-12-02 on, or have those concerned agree to less",
		},
		{name: "planned from the day it names", attrs: "  notice = 7\n", from: "2026-12-02T12:00:00Z", today: today},
		{name: "half done", attrs: "  notice = 7\n", from: "2026-11-25T12:00:00Z", today: today, done: []int{1}},
		{name: "no day", attrs: "  notice = 7\n", from: "2026-11-25T12:00:00Z"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, asking(tt.attrs), sequence.Options{Today: tt.today, From: at(t, tt.from), Done: tt.done})
			if len(p.Windows) != 1 {
				t.Fatalf("%d windows, findings %v", len(p.Windows), p.Findings)
			}
			if got := strings.Join(found(p, "plan/short-notice"), "\n"); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestRecordNumber(t *testing.T) {
	for _, tt := range []struct {
		name, attrs, record string
		want                int
	}{
		{name: "not asked for"},
		{name: "asked for", attrs: "  record = true\n", want: 1},
		{name: "given", attrs: "  record = true\n", record: "CR-118"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, asking(tt.attrs), sequence.Options{Record: tt.record})
			if got := found(p, "plan/no-record"); len(got) != tt.want {
				t.Errorf("got %q, want %d", got, tt.want)
			}
			if p.Failed(lint.Warning) {
				t.Errorf("a missing number is a note: %v", p.Findings)
			}
		})
	}
}

func TestReason(t *testing.T) {
	const missing = "note: site.s asks for the reason of every change, and this one has none: say with --reason what it is for and what happens without it"
	for _, tt := range []struct {
		name, attrs, reason, want string
	}{
		{name: "not asked for"},
		{name: "asked for", attrs: "  reason = true\n", want: missing},
		{name: "blank", attrs: "  reason = true\n", reason: " ", want: missing},
		{name: "given", attrs: "  reason = true\n", reason: "the summer timetable needs a second server"},
		{name: "the number alone is asked for", attrs: "  record = true\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := plan(t, asking(tt.attrs), sequence.Options{Record: "CR-118", Reason: tt.reason})
			if got := strings.Join(found(p, "plan/no-reason"), "\n"); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

// A thing that has no owner is its rack's owner's; what nobody owns is named
// once, however many jobs it has.
func TestUnowned(t *testing.T) {
	changed := racks(12, "", map[string][]string{
		"before x": {"gone one 1", "kept one 5"}, "after x": {"kept one 5", "swapped two 7"},
		"before y": {"swapped one 3", "stays one 5"}, "after y": {"stays one 5", "new one 8"},
	})
	p := plan(t, changed, sequence.Options{})
	if got := p.Unowned(); len(got) > 0 {
		t.Errorf("racks have owners: %q", got)
	}
	p = plan(t, strings.ReplaceAll(changed, "  owner = \"ops\"\n", ""), sequence.Options{})
	if got := strings.Join(p.Unowned(), " "); got != "gone swapped new" {
		t.Errorf("nobody owns %q", got)
	}
}
