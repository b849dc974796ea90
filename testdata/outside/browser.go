package outside

import (
	"context"
	"fmt"
	"html"
	"image"
	"image/png"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
	"time"
)

// A Browser shows pages without a window.
type Browser struct{ path string }

// NeedBrowser gives a Chromium, or skips the test like [Need].
func NeedBrowser(t testing.TB) *Browser { return &Browser{Need(t, "chromium")} }

// Picture shows a page of HTML or SVG in a window of that size, on a light or
// dark screen, and gives what is seen. Names ending in .svg are shown as SVG.
func (b *Browser) Picture(t testing.TB, name string, page []byte, width, height int, dark bool) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "picture.png")
	scheme := 1 // Blink's number for a light screen
	if dark {
		scheme = 0
	}
	b.run(t, "--hide-scrollbars", fmt.Sprintf("--window-size=%d,%d", width, height), fmt.Sprintf("--blink-settings=preferredColorScheme=%d", scheme),
		"--screenshot="+out, file(t, name, page))
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// PDF prints a page on paper and gives the file.
func (b *Browser) PDF(t testing.TB, page []byte) string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "page.pdf")
	b.run(t, "--no-pdf-header-footer", "--print-to-pdf="+out, file(t, "page.html", page))
	return out
}

// ScrollWidth gives how wide a page of HTML wants to be in a window that is
// width pixels wide: more than that, and the reader must scroll sideways.
func (b *Browser) ScrollWidth(t testing.TB, page []byte, width int) int {
	t.Helper()
	return b.ask(t, page, width, `frame.contentDocument.documentElement.scrollWidth`)
}

// ask shows the page in a frame of that width and gives the number that an
// expression of script over it has.
func (b *Browser) ask(t testing.TB, page []byte, width int, expression string) int {
	t.Helper()
	outer := fmt.Sprintf(`<!doctype html><body><iframe width="%d" height="800" style="border:0" srcdoc="%s"></iframe><script>
const frame = document.querySelector("iframe");
frame.onload = () => { document.title = "answer " + (%s); };
</script>`, width, html.EscapeString(string(page)), expression)
	dom := b.run(t, "--window-size=1400,900", "--virtual-time-budget=5000", "--dump-dom", file(t, "frame.html", []byte(outer)))
	m := regexp.MustCompile(`<title>answer (-?\d+)</title>`).FindStringSubmatch(dom)
	if m == nil {
		t.Fatalf("the browser gave no answer to %s", expression)
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// file writes a page where the browser can open it and gives its address.
func file(t testing.TB, name string, page []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, page, 0o666); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

func (b *Browser) run(t testing.TB, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	all := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
		"--user-data-dir=" + t.TempDir(), "--virtual-time-budget=3000"}, args...)
	out, err := exec.CommandContext(ctx, b.path, all...).Output()
	if err != nil {
		t.Fatalf("%s: %v", b.path, err)
	}
	return string(out)
}
