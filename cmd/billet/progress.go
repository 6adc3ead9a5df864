package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"golang.org/x/term"
)

// progress tells someone at a terminal that work goes on: nothing in the first
// half second, then one line that is renewed ten times a second at most and
// erased in the end. Where standard error is no terminal, or with --quiet, it
// says nothing.
type progress struct {
	mu   sync.Mutex
	text string
	quit chan struct{}
	gone chan struct{}
}

const (
	progressAfter = 500 * time.Millisecond
	progressEvery = 100 * time.Millisecond
)

// progress begins to tell of something; end it with stop.
func (o output) progress(what string) *progress {
	f, ok := o.stderr.(*os.File)
	if o.quiet || !ok || !term.IsTerminal(int(f.Fd())) {
		return &progress{}
	}
	return tell(f, what, progressAfter, progressEvery)
}

// tell shows progress on w.
func tell(w io.Writer, what string, after, every time.Duration) *progress {
	p := &progress{text: what, quit: make(chan struct{}), gone: make(chan struct{})}
	go func() {
		defer close(p.gone)
		wait := after
		for shown := false; ; shown = true {
			select {
			case <-p.quit:
				if shown {
					fmt.Fprint(w, "\r\x1b[K")
				}
				return
			case <-time.After(wait):
				fmt.Fprintf(w, "\r\x1b[K%s ...", p.now())
				wait = every
			}
		}
	}()
	return p
}

func (p *progress) now() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.text
}

// report takes the share done and of what.
func (p *progress) report(done float64, what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.text = fmt.Sprintf("%s: %.0f %%", what, 100*done)
}

// stop ends the telling and leaves the line empty.
func (p *progress) stop() {
	if p.quit != nil {
		close(p.quit)
		<-p.gone
	}
}
