package html

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	nethtml "golang.org/x/net/html"

	"cagenut/lang"
	"cagenut/lang/estate"
	"cagenut/lang/source"
	"cagenut/render/elevation"
	"cagenut/testdata/outside"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(name, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatalf("%v (run: go test ./render/html -update)", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s\nrun: go test ./render/html -update", name, diff)
	}
}

func ferry(t testing.TB) *Elevations {
	t.Helper()
	e, diags, err := lang.Load(context.Background(), source.Folder(filepath.Join("..", "..", "examples", "ferry")), lang.Options{})
	if err != nil || len(diags) > 0 {
		t.Fatal(err, diags)
	}
	return &Elevations{Title: "elevations of ferry", Read: "the folder", Racks: e.Racks}
}

func page(t testing.TB, e *Elevations) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := e.Print(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func sheets(t testing.TB, e *Elevations) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := e.Sheets(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestGoldens(t *testing.T) {
	e := ferry(t)
	e.Racks = e.Racks[2:3] // the wall frame: small enough to be reviewed
	golden(t, "page.html", page(t, e))
	golden(t, "sheets.html", sheets(t, e))
}

// checkPage reads a page with an independent parser and checks what makes it
// readable without eyes or a mouse, and that it fetches nothing.
func checkPage(t *testing.T, page []byte) {
	t.Helper()
	root, err := nethtml.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	var refs []string
	var visit func(n *nethtml.Node)
	visit = func(n *nethtml.Node) {
		if n.Type == nethtml.ElementNode {
			attr := map[string]string{}
			for _, a := range n.Attr {
				attr[a.Key] = a.Val
			}
			if id := attr["id"]; id != "" {
				if ids[id] {
					t.Errorf("id %s stands twice", id)
				}
				ids[id] = true
			}
			for _, key := range []string{"src", "href"} {
				if v := attr[key]; v != "" && !strings.HasPrefix(v, "#") {
					t.Errorf("<%s> asks for %s", n.Data, v)
				}
			}
			if h := attr["href"]; strings.HasPrefix(h, "#") {
				refs = append(refs, h[1:])
			}
			refs = append(refs, strings.Fields(attr["aria-labelledby"])...)
			for _, m := range regexp.MustCompile(`url\(#([^)]+)\)`).FindAllStringSubmatch(attr["fill"], -1) {
				refs = append(refs, m[1])
			}
			switch {
			case n.Data == "svg" && (attr["role"] != "img" || attr["aria-labelledby"] == ""):
				t.Error("a picture has no title for screen readers")
			case strings.Contains(attr["class"], "scroll") && (attr["tabindex"] != "0" || attr["aria-label"] == ""):
				t.Error("a part that scrolls cannot be reached with the keyboard")
			case n.Data == "th" && attr["scope"] == "":
				t.Error("a heading of a table has no scope")
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			visit(c)
		}
	}
	visit(root)
	for _, r := range refs {
		if !ids[r] {
			t.Errorf("#%s is referred to and is not there", r)
		}
	}
	if bytes.Contains(page, []byte("@import")) || bytes.Contains(page, []byte("<script")) {
		t.Error("the page fetches or runs something")
	}
}

func TestPagesStandAlone(t *testing.T) {
	checkPage(t, page(t, ferry(t)))
	checkPage(t, sheets(t, ferry(t)))
}

// Every mount is in the table with what a hand at the rack asks for.
func TestTableHoldsEveryMount(t *testing.T) {
	e := ferry(t)
	got := string(page(t, e))
	for _, r := range e.Racks {
		for _, m := range r.Mounts {
			if row := fmt.Sprintf("<td>%s</td><td>%s</td>", m.Name, m.Equipment.Name); !strings.Contains(got, row) {
				t.Errorf("%s is not in a table", m.Ref())
			}
		}
	}
}

func TestHostileNamesStayText(t *testing.T) {
	e := ferry(t)
	r := *e.Racks[0]
	r.Name = `<script>alert(1)</script>"'&`
	e.Racks = []*estate.Rack{&r}
	e.Title, e.Read = `<img src=x>`, `</style><b>`
	checkPage(t, page(t, e))
	checkPage(t, sheets(t, e))
}

func TestRackThatCannotBeDrawnIsListed(t *testing.T) {
	e := ferry(t)
	r := &estate.Rack{Name: "bare"}
	r.Mounts = []*estate.Mount{{Name: "lost", Rack: r}}
	e.Racks = []*estate.Rack{r}
	for _, got := range [][]byte{page(t, e), sheets(t, e)} {
		for _, want := range []string{"rack.bare is not drawn: its frame is not declared", "lost"} {
			if !bytes.Contains(got, []byte(want)) {
				t.Errorf("the page lacks %q", want)
			}
		}
	}
}

// Seen in a browser: on a light and a dark screen, and on a telephone.
func TestPagesInABrowser(t *testing.T) {
	browser := outside.NeedBrowser(t)
	for name, html := range map[string][]byte{"page": page(t, ferry(t)), "sheets": sheets(t, ferry(t))} {
		for _, dark := range []bool{false, true} {
			img := browser.Picture(t, name+".html", html, 1000, 800, dark)
			r, g, b, _ := img.At(2, 2).RGBA()
			if bright := r+g+b > 3*0x8000; bright == dark {
				t.Errorf("%s: the corner is %v on a screen that is dark: %v", name, img.At(2, 2), dark)
			}
			colours := map[[3]uint32]bool{}
			for x := 0; x < 1000; x += 3 {
				for y := 0; y < 800; y += 3 {
					r, g, b, _ := img.At(x, y).RGBA()
					colours[[3]uint32{r, g, b}] = true
				}
			}
			if len(colours) < 8 {
				t.Errorf("%s, dark %v: only %d colours are seen; is anything drawn?", name, dark, len(colours))
			}
		}
		if w := browser.ScrollWidth(t, html, 320); w > 320 {
			t.Errorf("%s: %d pixels wide on a screen of 320", name, w)
		}
	}
}

// Printed by a browser, every door sheet is one page of A4.
func TestSheetsOnPaper(t *testing.T) {
	browser := outside.NeedBrowser(t)
	pdfinfo, pdftotext := outside.Need(t, "pdfinfo"), outside.Need(t, "pdftotext")
	e := ferry(t)
	pdf := browser.PDF(t, sheets(t, e))
	info := outside.Run(t, "", pdfinfo, pdf)
	want := 0
	for _, r := range e.Racks {
		want += len(e.views(r))
	}
	if m := regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(info); m == nil || m[1] != fmt.Sprint(want) {
		t.Errorf("%d sheets give this PDF:\n%s", want, info)
	}
	if !strings.Contains(info, "(A4)") {
		t.Errorf("the paper is not A4:\n%s", info)
	}
	words := outside.Run(t, "", pdftotext, pdf, "-")
	for _, r := range e.Racks {
		for _, m := range r.Mounts {
			if !strings.Contains(words, m.Name) {
				t.Errorf("%s cannot be read on paper", m.Ref())
			}
		}
	}
}

func TestViews(t *testing.T) {
	e := ferry(t)
	if got := len(e.views(e.Racks[0])); got != 2 {
		t.Errorf("hq-a has strips at the rear and is shown from %d sides", got)
	}
	e.View = elevation.Side
	if got := e.views(e.Racks[0]); len(got) != 1 || got[0] != elevation.Side {
		t.Errorf("asked for the side, shown from %v", got)
	}
}
