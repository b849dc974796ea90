package review

import (
	"bytes"
	"image"
	"regexp"
	"strings"
	"testing"

	nethtml "golang.org/x/net/html"

	"cagenut/testdata/outside"
)

func printHTML(t testing.TB, p *Page) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestHTML has the page read by an independent parser, and asks for what makes
// it readable without eyes or a mouse, and that it fetches nothing.
func TestHTML(t *testing.T) {
	page := printHTML(t, ferry(t))
	if !bytes.Equal(page, printHTML(t, ferry(t))) {
		t.Error("the same change gives another page")
	}
	root, err := nethtml.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	var refs, headings []string
	elements := map[string]int{}
	each(root, func(n *nethtml.Node, attr map[string]string) {
		elements[n.Data]++
		if id := attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("id %s stands twice", id)
			}
			ids[id] = true
		}
		refs = append(refs, strings.Fields(attr["aria-labelledby"])...)
		if h := attr["href"]; strings.HasPrefix(h, "#") {
			refs = append(refs, h[1:])
		} else if h != "" && !strings.HasPrefix(h, "https://git.example/") {
			t.Errorf("a link to %s", h)
		}
		for _, m := range regexp.MustCompile(`url\(#([^)]+)\)`).FindAllStringSubmatch(attr["fill"], -1) {
			refs = append(refs, m[1])
		}
		switch {
		case attr["src"] != "":
			t.Errorf("<%s> fetches %s", n.Data, attr["src"])
		case n.Data == "svg" && attr["role"] != "img":
			t.Error("a picture has no role for screen readers")
		case n.Data == "th" && attr["scope"] == "":
			t.Error("a heading of a table has no scope")
		case n.Data == "pre" && attr["tabindex"] != "0":
			t.Error("a part that may scroll cannot be reached with the keyboard")
		case n.Data == "h2":
			headings = append(headings, words(n))
		}
	})
	for _, r := range refs {
		if !ids[r] {
			t.Errorf("#%s is referred to and is not there", r)
		}
	}
	want := "What it brings|What it cures|Other branches that want the same|Declared for several racks|hq-a|Not checked, for lack of a figure|The work"
	if got := strings.Join(headings, "|"); got != want {
		t.Errorf("headings %q, want %q", got, want)
	}
	if elements["svg"] != 2 || elements["script"] != 0 || elements["h1"] != 1 {
		t.Errorf("%d pictures, %d scripts, %d first headings; want 2, 0 and 1", elements["svg"], elements["script"], elements["h1"])
	}
}

// each visits the elements of a page.
func each(n *nethtml.Node, visit func(*nethtml.Node, map[string]string)) {
	if n.Type == nethtml.ElementNode {
		attr := map[string]string{}
		for _, a := range n.Attr {
			attr[a.Key] = a.Val
		}
		visit(n, attr)
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		each(c, visit)
	}
}

func words(n *nethtml.Node) string {
	if n.Type == nethtml.TextNode {
		return n.Data
	}
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		b.WriteString(words(c))
	}
	return b.String()
}

func TestHostileNamesStayTextInHTML(t *testing.T) {
	p := hostile()
	root, err := nethtml.Parse(bytes.NewReader(printHTML(t, p)))
	if err != nil {
		t.Fatal(err)
	}
	each(root, func(n *nethtml.Node, attr map[string]string) {
		switch n.Data {
		case "script", "img", "iframe", "object":
			t.Errorf("<%s> is on the page", n.Data)
		}
		for key := range attr {
			if strings.HasPrefix(key, "on") {
				t.Errorf("<%s> has %s", n.Data, key)
			}
		}
		if h := attr["href"]; strings.HasPrefix(h, "javascript:") || strings.Contains(h, "evil") {
			t.Errorf("a link to %s", h)
		}
	})
}

// TestNothingIsSafe: no form of the page may praise a change.
func TestNothingIsSafe(t *testing.T) {
	p := ferry(t)
	quiet := between(p.Change.Old, p.Change.Old)
	for _, page := range []string{print(t, p, 0), print(t, quiet, 0), string(printHTML(t, p)), string(printHTML(t, quiet))} {
		for _, word := range []string{" safe", "compliant", "approved", "no problem"} {
			if i := strings.Index(strings.ToLower(page), word); i >= 0 {
				t.Errorf("the page says %q: ...%s", word, page[max(0, i-40):min(len(page), i+40)])
			}
		}
	}
}

// TestHTMLInABrowser sees the page on a light and a dark screen, on a telephone
// and on paper.
func TestHTMLInABrowser(t *testing.T) {
	browser := outside.NeedBrowser(t)
	page := printHTML(t, ferry(t))
	for _, dark := range []bool{false, true} {
		img := browser.Picture(t, "review.html", page, 1000, 1600, dark)
		if bright := brightness(img, 2, 2) > 0x8000; bright == dark {
			t.Errorf("on a screen that is dark: %v, the corner is bright: %v", dark, bright)
		}
		if n := colours(img); n < 12 {
			t.Errorf("dark %v: only %d colours are seen; is anything drawn?", dark, n)
		}
	}
	if w := browser.ScrollWidth(t, page, 320); w > 320 {
		t.Errorf("%d pixels wide on a screen of 320", w)
	}
	pdf := browser.PDF(t, page)
	text := outside.Run(t, "", outside.Need(t, "pdftotext"), pdf, "-")
	for _, want := range []string{"ticket-3", "feed a, b lost", "Planning aid"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q cannot be read on paper", want)
		}
	}
}

func brightness(img image.Image, x, y int) uint32 {
	r, g, b, _ := img.At(x, y).RGBA()
	return (r + g + b) / 3
}

func colours(img image.Image) int {
	seen := map[[3]uint32]bool{}
	for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x += 3 {
		for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y += 3 {
			r, g, b, _ := img.At(x, y).RGBA()
			seen[[3]uint32{r, g, b}] = true
		}
	}
	return len(seen)
}
