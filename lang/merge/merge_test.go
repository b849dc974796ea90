package merge

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const rackText = `# The shore room's first cabinet.
rack "hq-a" {
  frame = frame.cab-42
  feeds = [feed.a, feed.b]

  # The pair that everything hangs on.
  mount "core-1" {
    at        = 38 # below the panels
    equipment = equipment.core-switch
    serial    = "BW-1"
  }
  mount "core-2" {
    at        = 36
    equipment = equipment.core-switch
  }

  blank { at = "39-42" }
}
`

func TestMerge(t *testing.T) {
	edit := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(rackText) }
	mount := func(name string, at int) string {
		return fmt.Sprintf("  mount %q {\n    at        = %d\n    equipment = equipment.strip\n  }\n", name, at)
	}
	after := func(text, mark, more string) string { return strings.Replace(text, mark, mark+more, 1) }
	const core2 = "    equipment = equipment.core-switch\n  }\n\n  blank"
	tests := []struct {
		name, ours, theirs string
		want               string
		conflicts          string
	}{
		{name: "only theirs", ours: rackText, theirs: edit("= 36", "= 30"), want: edit("= 36", "= 30")},
		{name: "only ours", ours: edit("= 36", "= 30"), theirs: rackText, want: edit("= 36", "= 30")},
		{name: "the same on both sides", ours: edit("= 36", "= 30"), theirs: edit("= 36", "= 30"), want: edit("= 36", "= 30")},
		{name: "neighbouring attributes of one mount", ours: edit("= 38", "= 37"), theirs: edit("BW-1", "BW-2"), want: edit("= 38", "= 37", "BW-1", "BW-2")},
		{name: "both add an attribute in the same place",
			ours:   edit("\"BW-1\"\n", "\"BW-1\"\n    owner     = \"network\"\n"),
			theirs: edit("\"BW-1\"\n", "\"BW-1\"\n    asset     = \"A-7\"\n"),
			want:   edit("\"BW-1\"\n", "\"BW-1\"\n    owner     = \"network\"\n    asset     = \"A-7\"\n")},
		{name: "both add a mount in the same place",
			ours:   edit(core2, "    equipment = equipment.core-switch\n  }\n"+mount("one", 10)+"\n  blank"),
			theirs: edit(core2, "    equipment = equipment.core-switch\n  }\n"+mount("two", 12)+"\n  blank"),
			want:   edit(core2, "    equipment = equipment.core-switch\n  }\n"+mount("one", 10)+mount("two", 12)+"\n  blank")},
		{name: "comments of both are kept",
			ours:   edit("  # The pair that", "  # Ours about it.\n  # The pair that", "= 38", "= 37"),
			theirs: edit("  # The pair that", "  # The pair that", "everything hangs on.", "everything hangs on.\n  # Theirs too.", "BW-1", "BW-2"),
			want:   edit("  # The pair that", "  # Ours about it.\n  # The pair that", "everything hangs on.", "everything hangs on.\n  # Theirs too.", "= 38", "= 37", "BW-1", "BW-2")},
		{name: "reformatted on one side, changed on the other",
			ours:   edit("    at        = 36", "    at=36"),
			theirs: edit("    at        = 36", "    at        = 35"),
			want:   edit("    at        = 36", "    at        = 35")},
		{name: "taken out on one side, comment changed on the other",
			ours:   strings.Replace(rackText, "    serial    = \"BW-1\"\n", "", 1),
			theirs: edit("\"BW-1\"\n", "\"BW-1\" # read off the lid\n"),
			want:   strings.Replace(rackText, "    serial    = \"BW-1\"\n", "", 1)},
		{name: "different blanks are different things",
			ours:   edit("  blank { at = \"39-42\" }\n", "  blank { at = \"39-42\" }\n  blank { at = 1 }\n"),
			theirs: edit("  blank { at = \"39-42\" }\n", "  blank { at = \"39-42\" }\n  blank { at = 2 }\n"),
			want:   edit("  blank { at = \"39-42\" }\n", "  blank { at = \"39-42\" }\n  blank { at = 1 }\n  blank { at = 2 }\n")},
		{name: "one attribute, two values", ours: edit("= 36", "= 30"), theirs: edit("= 36", "= 31"), conflicts: "rack.hq-a.core-2: at",
			want: edit("    at        = 36\n", "<<<<<<< night\n    at        = 30\n=======\n    at        = 31\n>>>>>>> day\n")},
		{name: "one attribute, two values, the rest merged",
			ours: edit("= 36", "= 30", "BW-1", "BW-2"), theirs: edit("= 36", "= 31", "= 38 #", "= 39 #"), conflicts: "rack.hq-a.core-2: at",
			want: edit("    at        = 36\n", "<<<<<<< night\n    at        = 30\n=======\n    at        = 31\n>>>>>>> day\n", "BW-1", "BW-2", "= 38 #", "= 39 #")},
		{name: "taken out and changed", conflicts: "rack.hq-a.core-2",
			ours:   strings.Replace(rackText, "  mount \"core-2\" {\n    at        = 36\n    equipment = equipment.core-switch\n  }\n", "", 1),
			theirs: edit("= 36", "= 31"),
			want: edit("  mount \"core-2\" {\n    at        = 36\n    equipment = equipment.core-switch\n  }\n",
				"<<<<<<< night\n=======\n  mount \"core-2\" {\n    at        = 31\n    equipment = equipment.core-switch\n  }\n>>>>>>> day\n")},
		{name: "added on both sides, differently in part", conflicts: "rack.hq-a.one: at",
			ours:   after(rackText, "feed.b]\n", mount("one", 10)),
			theirs: after(rackText, "feed.b]\n", mount("one", 11)),
			want:   after(rackText, "feed.b]\n", "  mount \"one\" {\n<<<<<<< night\n    at        = 10\n=======\n    at        = 11\n>>>>>>> day\n    equipment = equipment.strip\n  }\n")},
		{name: "whole racks added behind each other",
			ours: rackText + "\nrack \"hq-b\" {\n}\n", theirs: rackText + "\nrack \"hq-c\" {\n}\n",
			want: rackText + "\nrack \"hq-b\" {\n}\n\nrack \"hq-c\" {\n}\n"},
		{name: "lines that end with CRLF stay so",
			ours: strings.ReplaceAll(edit("= 38", "= 37"), "\n", "\r\n"), theirs: edit("BW-1", "BW-2"),
			want: strings.ReplaceAll(edit("= 38", "= 37", "BW-1", "BW-2"), "\n", "\r\n")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := Merge([]byte(rackText), []byte(tt.ours), []byte(tt.theirs), Labels{Ours: "night", Theirs: "day"})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, string(r.Text)); diff != "" {
				t.Errorf("merged (-want +got):\n%s", diff)
			}
			if got := strings.Join(r.Conflicts, "; "); got != tt.conflicts {
				t.Errorf("conflicts %q, want %q", got, tt.conflicts)
			}
		})
	}
}

func TestMergeRefusesBrokenText(t *testing.T) {
	_, err := Merge([]byte(rackText), []byte("rack \"a\" {\n"), []byte(rackText), Labels{})
	if !errors.Is(err, ErrSyntax) || !strings.HasPrefix(err.Error(), "ours: line ") {
		t.Errorf("Merge of a broken text: %v, want ErrSyntax that names ours", err)
	}
}

// A document is a rack as a property sees it: mounts by name, attributes by
// name.
type document map[string]map[string]int

func (d document) text() string {
	var b strings.Builder
	b.WriteString("rack \"r\" {\n")
	for _, name := range []string{"a", "b", "c", "d"} {
		if attrs, ok := d[name]; ok {
			fmt.Fprintf(&b, "  mount %q { # %s\n", name, name)
			for _, attr := range []string{"p", "q", "r"} {
				if v, ok := attrs[attr]; ok {
					fmt.Fprintf(&b, "    %s = %d\n", attr, v)
				}
			}
			b.WriteString("  }\n")
		}
	}
	b.WriteString("}\n")
	return b.String()
}

// TestMergeIsThreeWay merges random documents and compares with what each value
// must become: where one side left it alone, that of the other.
func TestMergeIsThreeWay(t *testing.T) {
	side := rapid.MapOfN(rapid.SampledFrom([]string{"a", "b", "c", "d"}), rapid.MapOfN(rapid.SampledFrom([]string{"p", "q", "r"}), rapid.IntRange(1, 2), 1, 3), 0, 4)
	rapid.Check(t, func(t *rapid.T) {
		base, ours, theirs := document(side.Draw(t, "base")), document(side.Draw(t, "ours")), document(side.Draw(t, "theirs"))
		r, err := Merge([]byte(base.text()), []byte(ours.text()), []byte(theirs.text()), Labels{})
		if err != nil {
			t.Fatal(err)
		}
		want := document{}
		clean := true
		for _, name := range []string{"a", "b", "c", "d"} {
			b, inBase := base[name]
			o, inOurs := ours[name]
			th, inTheirs := theirs[name]
			merged := map[string]int{}
			if inOurs != inTheirs {
				kept := o
				if inTheirs {
					kept = th
				}
				switch {
				case !inBase:
					want[name] = kept
				case fmt.Sprint(kept) != fmt.Sprint(b):
					clean = false // taken out and changed
				}
				continue
			}
			if !inOurs {
				continue
			}
			for _, attr := range []string{"p", "q", "r"} {
				switch x, y, z := b[attr], o[attr], th[attr]; {
				case y == z, z == x:
					merged[attr] = y
				case y == x:
					merged[attr] = z
				default:
					clean = false
				}
				if merged[attr] == 0 {
					delete(merged, attr)
				}
			}
			want[name] = merged
		}
		if clean != (len(r.Conflicts) == 0) {
			t.Fatalf("conflicts %v, want clean %t\n%s", r.Conflicts, clean, r.Text)
		}
		if clean && sorted(string(r.Text)) != sorted(want.text()) {
			t.Fatalf("merged\n%swant\n%s", r.Text, want.text())
		}
		if again, _ := Merge([]byte(base.text()), []byte(ours.text()), []byte(ours.text()), Labels{}); string(again.Text) != ours.text() {
			t.Fatalf("a text merged with itself became\n%s", again.Text)
		}
	})
}

// sorted puts the mounts of a text, and the lines in each, in order.
func sorted(text string) string {
	b, err := cut([]byte(text))
	if err != nil {
		return err.Error()
	}
	rack := b.items[b.keys[0]]
	var out []string
	for _, key := range rack.inner.keys {
		var lines []string
		for _, attr := range rack.inner.items[key].inner.keys {
			lines = append(lines, attr+normal(rack.inner.items[key].inner.items[attr].head))
		}
		slices.Sort(lines)
		out = append(out, key+fmt.Sprint(lines))
	}
	slices.Sort(out)
	return fmt.Sprint(out)
}

func FuzzMerge(f *testing.F) {
	f.Add([]byte(rackText), []byte(strings.Replace(rackText, "38", "3", 1)), []byte("a=1"))
	f.Fuzz(func(t *testing.T, base, ours, theirs []byte) {
		r, err := Merge(base, ours, theirs, Labels{})
		if err != nil {
			return
		}
		if b, err := cut(ours); err == nil {
			var out bytes.Buffer
			b.write(&out)
			if want := bytes.ReplaceAll(ours, []byte("\r\n"), []byte("\n")); !bytes.Equal(out.Bytes(), want) {
				t.Fatalf("the items of %q are %q", want, out.Bytes())
			}
		}
		if len(r.Conflicts) == 0 {
			if _, err := cut(r.Text); err != nil {
				t.Fatalf("a merge without conflicts does not parse: %v\n%s", err, r.Text)
			}
		}
	})
}
