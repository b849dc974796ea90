package diff

import (
	"bytes"
	"testing"
)

func TestJSON(t *testing.T) {
	var b bytes.Buffer
	if err := JSON(&b, odd(t)); err != nil {
		t.Fatal(err)
	}
	golden(t, "odd.json", b.String())
}
