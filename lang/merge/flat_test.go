package merge

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFlat(t *testing.T) {
	const in = `# A rack.
rack "hq-a" {
  frame = frame.cab-42
  mount "core-1" {
    serial = "BW-1" # read off the lid
    at     =   38
    feeds  = [
      feed.a, # behind the UPS
      feed.b,
    ]
  }
  blank { at = "39-42" }
}
given {}
`
	const want = `rack.hq-a: frame = frame.cab-42
rack.hq-a.core-1: at = 38
rack.hq-a.core-1: feeds = [ feed.a, feed.b, ]
rack.hq-a.core-1: serial = "BW-1"
rack.hq-a.blank: at = "39-42"
given:
`
	got, err := Flat([]byte(in))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(got)); diff != "" {
		t.Errorf("Flat (-want +got):\n%s", diff)
	}
	if _, err := Flat([]byte("rack {")); !errors.Is(err, ErrSyntax) {
		t.Errorf("Flat of a broken text: %v, want ErrSyntax", err)
	}
}
