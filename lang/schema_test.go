package lang

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// around are files that declare what the examples of the language refer to.
var around = map[string]string{
	"estate.hcl": `estate "e" {}`,
	"around.hcl": `
site "quay" {}
room "hq" {}
row "hq-1" {}
bar "hq" {}
route "dock" {
  gate "door" {}
}
row "hq-2" {}
source "mains" {}
source "ups-1" {}
breaker "main-2" {}
breaker "p1-3" {}
frame "cab-42" {
  system = "19in"
  units  = 42
}
equipment "core-switch" {}
equipment "access-switch" {}
equipment "strip-16" {}
equipment "node" {}
equipment "flange-25" {}
feed "a" {}
feed "b" {}
layout "access" {}
rack "hq-a" {
  frame = frame.cab-42
  mount "core-1" {
    at        = 3
    equipment = equipment.core-switch
  }
  mount "store-1" {
    at        = 5
    equipment = equipment.core-switch
  }
}
rack "hq-b" {
  frame = frame.cab-42
  mount "core-2" {
    at        = 3
    equipment = equipment.core-switch
  }
}
`,
}

// inParents writes a block inside what it may stand in.
func inParents(b BlockDoc, text string) string {
	if len(b.In) == 0 {
		return text
	}
	parent := b.In[len(b.In)-1]
	if parent == "rack" {
		return "rack \"example\" {\nframe = frame.cab-42\n" + text + "\n}\n"
	}
	if parent == "frame" {
		text = "system = \"19in\"\nunits = 42\n" + text
	}
	return parent + " \"example\" {\n" + text + "\n}\n"
}

func TestExamplesOfTheLanguageAreRight(t *testing.T) {
	for _, b := range Schema() {
		t.Run(b.Name, func(t *testing.T) {
			if b.Example == "" {
				t.Fatalf("block %s has no example", b.Name)
			}
			files := map[string]string{"estate.hcl": around["estate.hcl"], "around.hcl": around["around.hcl"], "example.hcl": inParents(b, b.Example)}
			if b.Name == "estate" {
				delete(files, "estate.hcl")
			}
			if wrong := report(t, files); wrong != "" {
				t.Errorf("the example of %s is wrong:\n%s", b.Name, wrong)
			}
			for _, a := range b.Attributes {
				if a.Example == "" {
					t.Errorf("%s.%s has no example", b.Name, a.Name)
					continue
				}
				// The attribute beside all that the block requires.
				var body strings.Builder
				for _, other := range b.Attributes {
					if other.Required && other.Name != a.Name {
						fmt.Fprintf(&body, "%s = %s\n", other.Name, other.Example)
					}
				}
				name := strings.ToLower(a.Name)
				fmt.Fprintf(&body, "%s = %s\n", name, a.Example)
				switch {
				case b.Name == "sequence":
					body.WriteString("step \"one\" {\non = [rack.hq-a.core-1]\n}\n")
				case b.Name == "frame" && a.Name != "units":
					body.WriteString("units = 42\n")
				case b.Name == "mount":
					for _, need := range []string{"at = 7", "equipment = equipment.node"} {
						if !strings.HasPrefix(need, a.Name+" ") {
							body.WriteString(need + "\n")
						}
					}
				case b.Name == "zero_u" && a.Name != "equipment":
					body.WriteString("equipment = equipment.node\n")
				}
				head := b.Name
				switch b.Label {
				case "NAME":
					head += ` "example"`
				case "RULE":
					head += ` "load/heavy-high"`
				}
				files["example.hcl"] = inParents(b, head+" {\n"+body.String()+"}\n")
				if wrong := report(t, files); wrong != "" {
					t.Errorf("the example of %s.%s is wrong:\n%s%s", b.Name, a.Name, files["example.hcl"], wrong)
				}
			}
		})
	}
}

func TestLanguageIsDescribed(t *testing.T) {
	name := regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	for _, b := range Schema() {
		if b.Doc == "" || strings.HasSuffix(b.Doc, ".") {
			t.Errorf("block %s: doc %q, want a sentence without its full stop", b.Name, b.Doc)
		}
		seen := map[string]bool{}
		for _, a := range b.Attributes {
			if seen[a.Name] {
				t.Errorf("%s.%s stands twice in the table", b.Name, a.Name)
			}
			seen[a.Name] = true
			if !name.MatchString(a.Name) && a.Name != strings.ToUpper(a.Name) {
				t.Errorf("%s.%s is not in small letters with _ between words", b.Name, a.Name)
			}
			if a.Kind == "" || a.Doc == "" || strings.HasSuffix(a.Doc, ".") {
				t.Errorf("%s.%s: kind %q, doc %q, want both, without a full stop", b.Name, a.Name, a.Kind, a.Doc)
			}
			if a.Refers != "" && a.Refers != "mount" && !referable(a.Refers) {
				t.Errorf("%s.%s refers to a %s, which is no block with a name", b.Name, a.Name, a.Refers)
			}
			if a.Default != "" && a.Required {
				t.Errorf("%s.%s is required and has a default", b.Name, a.Name)
			}
			for _, w := range a.Words {
				if !hclsyntax.ValidIdentifier("x" + w) {
					t.Errorf("%s.%s: the word %q does not look like one", b.Name, a.Name, w)
				}
			}
		}
	}
}

func TestEveryBlockIsDescribed(t *testing.T) {
	described := map[string]bool{}
	for _, b := range Schema() {
		described[b.Name] = true
	}
	for _, want := range strings.Fields("estate given site room row frame equipment feed rack mount blank reserve zero_u stack layout group policy adjust waive window freeze pace bench") {
		if !described[want] {
			t.Errorf("Schema lacks the block %s", want)
		}
	}
}
