package browser

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long a person waits for anything; long, because machines that test are busy.
const patience = 90 * time.Second

// phone is one browser with tabs. It counts what its owner does, and notes what no page may do.
type phone struct {
	tb      testing.TB
	site    *site
	browser context.Context
	tab     context.Context
	close   context.CancelFunc
	touches int // clicks, keys and choices since it was last set to 0

	wasCut atomic.Bool // the signal was taken in this test

	mu     sync.Mutex
	wrongs []string       // errors in the console, requests elsewhere
	bytes  map[string]int // that the last page loaded, by address
	names  map[network.RequestID]string
}

const (
	phoneWide, phoneHigh     = 390, 844
	desktopWide, desktopHigh = 1280, 900
)

func newPhone(s *site) *phone {
	s.tb.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium(s.tb)), chromedp.WindowSize(phoneWide, phoneHigh))
	if os.Getuid() == 0 {
		options = append(options, chromedp.NoSandbox) // as root there is none
	}
	allocated, stop := chromedp.NewExecAllocator(context.WithoutCancel(s.tb.Context()), options...)
	s.tb.Cleanup(stop)
	browser, end := chromedp.NewContext(allocated)
	s.tb.Cleanup(end)
	p := &phone{tb: s.tb, site: s, browser: browser}
	if err := chromedp.Do(browser); err != nil {
		s.tb.Fatalf("starting Chromium: %v", err)
	}
	p.openTab()
	s.tb.Cleanup(func() {
		for _, w := range p.wrong() {
			s.tb.Error(w)
		}
	})
	return p
}

// openTab opens a tab, the one that is used from then on.
func (p *phone) openTab() {
	p.tb.Helper()
	p.tab, p.close = chromedp.NewContext(p.browser)
	p.tb.Cleanup(p.close)
	p.do(chromedp.EmulateViewport(phoneWide, phoneHigh))
	if err := chromedp.Listen(p.tab, p.notice); err != nil {
		p.tb.Fatal(err)
	}
	for _, enable := range []func() error{
		func() error { _, err := chromedp.Call(p.tab, log.Enable, cdp.Empty{}); return err },
		func() error { _, err := chromedp.Call(p.tab, network.Enable, network.EnableParams{}); return err },
	} {
		if err := enable(); err != nil {
			p.tb.Fatal(err)
		}
	}
}

// notice keeps what a page may not do: an error in the console, a request to another host.
func (p *phone) notice(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		p.note("an exception: %s %v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception)
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "warning" {
			var said []string
			for _, a := range e.Args {
				said = append(said, string(a.Value)+a.Description)
			}
			text := strings.Join(said, " ")
			// Without signal the drawing in a form says that it got no answer; one that is left behind, that it was given up.
			if !p.wasCut.Load() && !strings.Contains(text, "htmx:sendAbort") && !strings.Contains(text, "htmx:afterRequest") {
				p.note("the console: %s", text)
			}
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == "error" && !p.expected(e.Entry) {
			p.note("the browser's log: %s %s", e.Entry.Text, e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		p.request(e)
	case *network.EventLoadingFinished:
		if p.bytes != nil {
			p.bytes[p.names[e.RequestID]] += int(e.EncodedDataLength)
		}
	}
}

// expected reports whether an error in the browser's log is the answer of a server that refuses a form, or no answer
// while the connection is cut: what a test does on purpose.
func (p *phone) expected(e *log.Entry) bool {
	return e.Source == "network" && (p.site.cut.Load() || strings.Contains(e.Text, "net::ERR_") || strings.Contains(e.Text, "(Unprocessable Entity)") || strings.Contains(e.Text, "(Precondition Failed)") || strings.Contains(e.Text, "(Not Found)"))
}

func (p *phone) request(e *network.EventRequestWillBeSent) {
	if p.names != nil {
		p.names[e.RequestID] = e.Request.URL
	}
	u, err := url.Parse(e.Request.URL)
	if err != nil || (u.Scheme != "blob" && u.Scheme != "data" && u.Scheme != "about" && "http://"+u.Host != p.site.url) {
		p.note("a request elsewhere: %s", e.Request.URL)
	}
}

func (p *phone) note(format string, parts ...any) {
	p.wrongs = append(p.wrongs, fmt.Sprintf(format, parts...))
}

func (p *phone) wrong() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.wrongs
}

// do runs steps within a person's patience.
func (p *phone) do(steps ...chromedp.Action[chromedp.Void]) {
	p.tb.Helper()
	if err := p.try(steps...); err != nil {
		p.picture("failed")
		p.tb.Fatalf("%v\n%.1500s", err, p.text())
	}
}

func (p *phone) try(steps ...chromedp.Action[chromedp.Void]) error {
	if err := chromedp.Do(p.tab); err != nil { // the tab lives as long as its first context
		return err
	}
	ctx, cancel := context.WithTimeout(p.tab, patience)
	defer cancel()
	return chromedp.Do(ctx, steps...)
}

// eval runs a script in the page.
func eval[T any](p *phone, script string) T {
	p.tb.Helper()
	ctx, cancel := context.WithTimeout(p.tab, patience)
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.tb.Fatalf("running %.200s: %v", script, err)
	}
	return value
}

// until waits for a script to be true.
func (p *phone) until(what, script string) {
	p.tb.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		ctx, cancel := context.WithTimeout(p.tab, patience)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+script+")", chromedp.EvalAwaitPromise))
		cancel()
		if ok && err == nil {
			return
		}
	}
	p.picture("failed")
	p.tb.Fatalf("waited in vain until %s; the page says:\n%.2000s", what, p.text())
}

// open goes to an address and waits until its scripts have run.
func (p *phone) open(address string) {
	p.tb.Helper()
	p.do(chromedp.Navigate(p.site.url + address))
	p.until("the page is there", `document.readyState === "complete" && !document.querySelector("[data-underway]")`)
}

func (p *phone) text() string {
	ctx, cancel := context.WithTimeout(p.tab, patience)
	defer cancel()
	text, _ := chromedp.Run(ctx, chromedp.Evaluate[string](`document.title + "\n" + (document.querySelector("main")?.innerText ?? "")`))
	return text
}

// touch clicks what a selector finds first.
func (p *phone) touch(selector string) {
	p.tb.Helper()
	p.touches++
	p.do(chromedp.Click(chromedp.CSS(selector)))
}

// fill types into a field, as one interaction: a field is touched and typed into.
func (p *phone) fill(selector, value string) {
	p.tb.Helper()
	p.touches++
	p.do(chromedp.WaitVisible(chromedp.CSS(selector)))
	eval[bool](p, fmt.Sprintf(`(document.querySelector(%q).value = "", true)`, selector))
	p.do(chromedp.SendKeys(chromedp.CSS(selector), value))
}

// choose picks an option by its value.
func (p *phone) choose(selector, value string) {
	p.tb.Helper()
	p.touches++
	script := fmt.Sprintf(`(() => { const s = document.querySelector(%q); if (!Array.from(s.options).some((o) => o.value === %q)) return false;
		s.value = %q; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, selector, value, value)
	if !eval[bool](p, script) {
		p.tb.Fatalf("%s has no choice %q", selector, value)
	}
}

// goes touches something that leads to another page, and waits for that page.
func (p *phone) goes(selector string) {
	p.tb.Helper()
	eval[bool](p, `(window.left = true)`)
	p.touch(selector)
	p.until("another page is there", `!window.left && document.readyState === "complete" && !document.querySelector("[data-underway]")`)
}

// signal gives or takes the signal: the connection is cut, and the browser knows.
func (p *phone) signal(there bool) {
	p.tb.Helper()
	p.site.cut.Store(!there)
	p.wasCut.Store(true)
	if _, err := chromedp.Call(p.tab, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: !there, DownloadThroughput: -1, UploadThroughput: -1}); err != nil {
		p.tb.Fatal(err)
	}
}

// looks sets the size of the screen and the theme.
func (p *phone) looks(wide, high int64, theme string) {
	p.tb.Helper()
	p.do(chromedp.EmulateViewport(wide, high))
	if _, err := chromedp.Call(p.tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}}); err != nil {
		p.tb.Fatal(err)
	}
}

// picture keeps a screenshot with the output of the test: go test -artifacts keeps it.
func (p *phone) picture(name string) {
	p.tb.Helper()
	ctx, cancel := context.WithTimeout(p.tab, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.tb.Logf("no picture %s: %v", name, err)
		return
	}
	if err := os.WriteFile(filepath.Join(p.tb.ArtifactDir(), name+".png"), png, 0o644); err != nil {
		p.tb.Error(err)
	}
}

// weigh counts from now on what pages load, as it is sent.
func (p *phone) weigh() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.bytes, p.names = map[string]int{}, map[network.RequestID]string{}
}

func (p *phone) weighed() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	sum := 0
	for _, n := range p.bytes {
		sum += n
	}
	return sum
}
