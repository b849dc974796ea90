package main

import (
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
)

// barAfter is how long work may take before a bar shows how far it is.
const barAfter = time.Second

// A progress shows how far long work is, on stderr and only for a person: a
// terminal that did not ask for quiet. Nil shows nothing.
type progress struct {
	p     *program
	what  string
	begin time.Time

	mu  sync.Mutex
	bar *progressbar.ProgressBar
}

// progress begins to watch work. The caller ends it.
func (p *program) progress(what string) *progress {
	if p.quiet || p.width(p.stderr) <= 0 || p.env("TERM") == "dumb" {
		return nil
	}
	return &progress{p: p, what: what, begin: p.now()}
}

// each tells that done of all pieces are done. Goroutines may call it at the
// same time; who finds it busy passes on.
func (g *progress) each(done, all int) {
	if g == nil || !g.mu.TryLock() {
		return
	}
	defer g.mu.Unlock()
	if g.bar == nil {
		if g.p.now().Sub(g.begin) < barAfter {
			return
		}
		g.bar = g.newBar(all)
	}
	// A bar that cannot be drawn is no reason to stop the work.
	_ = g.bar.Set(done)
}

func (g *progress) newBar(all int) *progressbar.ProgressBar {
	theme := progressbar.Theme{Saucer: "━", SaucerHead: "╸", SaucerPadding: " ", BarStart: "┃", BarEnd: "┃"}
	if g.p.plain() {
		theme = progressbar.Theme{Saucer: "=", SaucerHead: "=", SaucerPadding: " ", BarStart: "I", BarEnd: "I"}
	}
	return progressbar.NewOptions(all,
		progressbar.OptionSetWriter(g.p.stderr),
		progressbar.OptionSetDescription(g.what),
		progressbar.OptionSetTheme(theme),
		progressbar.OptionSetWidth(min(30, max(g.p.width(g.p.stderr)-len(g.what)-30, 4))),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionShowCount(),
		progressbar.OptionSetPredictTime(false),
		progressbar.OptionSetElapsedTime(false),
	)
}

// end takes the bar away.
func (g *progress) end() {
	if g == nil {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.bar != nil {
		_ = g.bar.Clear() // as in each
	}
}
