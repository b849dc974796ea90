package lang

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"indent and columns", "rack \"r\" {\nframe=frame.f\n    place   =   1\nmount \"m\" {\nat=3\nequipment = equipment.q\n}\n}", "rack \"r\" {\n  frame = frame.f\n  place = 1\n  mount \"m\" {\n    at        = 3\n    equipment = equipment.q\n  }\n}\n"},
		{"one-line block", "rack \"r\" {\nblank{at=\"3-4\"}\n}\n", "rack \"r\" {\n  blank { at = \"3-4\" }\n}\n"},
		{"blank lines", "\n\n\nrow \"a\" {\n\n\n  front = \"cold\"\n\n\n\n  room = room.r\n\n}\n\n\n\nrow \"b\" {}\n\n\n", "row \"a\" {\n  front = \"cold\"\n\n  room = room.r\n}\n\nrow \"b\" {}\n"},
		{"comments", "# first\n\n\n\n  # second   \nrow \"a\" { # why\n\n# inside\n\n/* a\n\n\n   b */\n  front = \"cold\" // because\n# last\n\n}\n#end", "# first\n\n# second   \nrow \"a\" { # why\n  # inside\n\n  /* a\n\n\n   b */\n  front = \"cold\" // because\n  # last\n}\n#end\n"},
		{"heredoc", "reserve \"a\" {\n  reason = <<E\n\n   as it\n\n\n  is\nE\n\n\n\n  at = 3\n}\n", "reserve \"a\" {\n  reason = <<E\n\n   as it\n\n\n  is\nE\n\n  at = 3\n}\n"},
		{"list", "rack \"r\" {\n  feeds = [\n\n  feed.a,\n\n\n  feed.b\n\n  ]\n}\n", "rack \"r\" {\n  feeds = [\n    feed.a,\n\n    feed.b\n  ]\n}\n"},
		{"carriage returns and byte order mark", "\ufeffrow \"a\" {\r\nfront=\"cold\"\r\n\r\n\r\n}\r\n", "\ufeffrow \"a\" {\r\n  front = \"cold\"\r\n}\r\n"},
		{"nothing", "", ""},
		{"only blank lines", "\n\n\n", ""},
		{"tabs", "row \"a\" {\n\tfront\t=\t\"cold\"\n}\n", "row \"a\" {\n  front = \"cold\"\n}\n"},
		{"template", "policy \"p\" {\n  say=\"${ mount.name }  is   high\"\n}\n", "policy \"p\" {\n  say = \"${mount.name}  is   high\"\n}\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, diags := Format("a.hcl", []byte(tt.in))
			if string(got) != tt.want || len(diags) > 0 {
				t.Errorf("Format(%q)\n= %q, %v\nwant %q", tt.in, got, diags, tt.want)
			}
			if again, _ := Format("a.hcl", got); !bytes.Equal(again, got) {
				t.Errorf("Format of its own result %q\n= %q", got, again)
			}
		})
	}
}

func TestFormatLeavesBrokenFilesAlone(t *testing.T) {
	for name, in := range map[string]string{"a.hcl": "row \"a\" {\n  front =\n", "a.hcl.json": "{ \"row\": "} {
		got, diags := Format(name, []byte(in))
		if string(got) != in || len(diags) == 0 {
			t.Errorf("Format of a broken %s = %q, %v; want the text as it was and what is wrong", name, got, diags)
		}
	}
	if got, diags := Format("a.hcl.json", []byte(`{ "row": {"a": {}}}`)); string(got) != `{ "row": {"a": {}}}` || len(diags) > 0 {
		t.Errorf("Format of the JSON form = %q, %v; want it as it was", got, diags)
	}
}

func TestExamplesAreLaidOut(t *testing.T) {
	for _, b := range Schema() {
		want := b.Example + "\n"
		if got, _ := Format("a.hcl", []byte(b.Example)); string(got) != want {
			t.Errorf("the example of %s is laid out as\n%s", b.Name, got)
		}
	}
	_ = filepath.WalkDir("../examples", func(path string, d os.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".hcl" {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got, diags := Format(path, src); !bytes.Equal(got, src) {
			t.Errorf("%s is not laid out: %v; write\n%s", path, diags, got)
		}
		return nil
	})
}

func TestFormatSettles(t *testing.T) {
	words := []string{
		"rack \"r\" {", "}", "\n", "\n\n\n", " ", "\t", "frame = frame.f", "at=3", "# note", "// note", "/* a\n b */", "mount \"m\" {",
		"feeds = [", "feed.a", ",", "]", "\"text\"", "= ", "x", "draw = { typical = \"1 W\" }", "\r\n", "<<E\n a\n\nE\n", "\"${given.x}\"", "(", ")", "+", "-3",
	}
	rapid.Check(t, func(t *rapid.T) {
		text := ""
		for _, w := range rapid.SliceOfN(rapid.SampledFrom(words), 0, 30).Draw(t, "words") {
			text += w
		}
		settles(t, text)
	})
}

// settles checks that laying out twice is laying out once, and that nothing but
// the layout changes.
func settles(t interface{ Fatalf(string, ...any) }, text string) {
	once, diags := Format("a.hcl", []byte(text))
	if len(diags) > 0 {
		if diags[0].Summary == cannotLayOut {
			t.Fatalf("Format(%q) alters what it says", text)
		}
		return
	}
	twice, _ := Format("a.hcl", once)
	if !bytes.Equal(once, twice) {
		t.Fatalf("Format(%q)\n= %q, and of that\n= %q", text, once, twice)
	}
}

func FuzzFormat(f *testing.F) {
	paths, _ := filepath.Glob("testdata/*.txtar")
	for _, path := range paths {
		a, err := txtar.ParseFile(path)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range a.Files {
			f.Add(string(file.Data))
		}
	}
	f.Fuzz(func(t *testing.T, text string) { settles(t, text) })
}
