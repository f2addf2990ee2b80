package web_test

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// shots is a folder for pictures of the pages, to be looked at.
var shots = flag.String("shots", "", "write pictures of the pages into this folder")

// browser is the one Chromium of this package, started by the first test that
// asks for a tab.
var browser struct {
	once sync.Once
	ctx  context.Context
	stop func()
	err  error
}

func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	if browser.stop != nil {
		browser.stop()
	}
	os.Exit(code)
}

// startBrowser starts Chromium with a profile of its own.
func startBrowser() {
	bin := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if at, err := exec.LookPath(name); err == nil {
			bin = at
			break
		}
	}
	if bin == "" {
		browser.err = fmt.Errorf("no Chromium on this machine; scripts/chromium.sh installs it")
		return
	}
	dir, err := os.MkdirTemp("", "pages")
	if err != nil {
		browser.err = err
		return
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(bin), chromedp.UserDataDir(dir),
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	a, stopA := chromedp.NewExecAllocator(context.Background(), opts...)
	b, stopB := chromedp.NewContext(a)
	browser.err = chromedp.Do(b)
	browser.ctx = b
	browser.stop = func() {
		_ = chromedp.Cancel(b) // the processes end with their contexts
		stopB()
		stopA()
		for until := time.Now().Add(5 * time.Second); os.RemoveAll(dir) != nil && time.Now().Before(until); {
			time.Sleep(100 * time.Millisecond)
		}
	}
}

// tab is an isolated tab of the browser.
type tab struct {
	testing.TB
	ctx   context.Context
	width int64

	mu     sync.Mutex
	abroad []string // requests that left the server
	errors []string // what the page complained of
}

// newTab opens a tab of a width. The test fails if the page asks anything of
// another host, or if the browser reports an error of its policy or scripts.
func newTab(t testing.TB, width int64) *tab {
	t.Helper()
	browser.once.Do(startBrowser)
	if browser.err != nil {
		if os.Getenv("CI") == "" {
			t.Skip(browser.err)
		}
		t.Fatal(browser.err)
	}
	ctx, cancel := chromedp.NewContext(browser.ctx, chromedp.WithNewBrowserContext())
	b := &tab{TB: t, ctx: ctx, width: width}
	t.Cleanup(func() {
		cancel()
		b.mu.Lock()
		defer b.mu.Unlock()
		for _, u := range b.abroad {
			t.Errorf("the page asked another host: %s", u)
		}
		for _, e := range b.errors {
			t.Errorf("the page complained: %s", e)
		}
	})
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatal(err)
	}
	b.do(enabled(), chromedp.EmulateViewport(width, 900))
	return b
}

// enabled lets a tab tell of its requests and of what it complains of.
func enabled() chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, log.Enable, cdp.Empty{})
		return err
	})
}

// hear keeps what a test must not see: requests to other hosts, broken policies,
// exceptions of a script.
func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		u, err := url.Parse(e.Request.URL)
		if err != nil || u.Scheme == "http" && u.Hostname() != "127.0.0.1" || u.Scheme == "https" {
			b.abroad = append(b.abroad, e.Request.URL)
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError && e.Entry.Source != log.EntrySourceNetwork {
			b.errors = append(b.errors, e.Entry.Text)
		}
	case *runtime.EventExceptionThrown:
		b.errors = append(b.errors, fmt.Sprintf("%s line %d", e.ExceptionDetails.Text, e.ExceptionDetails.LineNumber))
	}
}

// see runs an expression in the page and returns its value.
func see[T any](b *tab, expression string) T {
	b.Helper()
	return got(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// got runs an action in the tab and returns its value.
func got[T any](b *tab, a chromedp.Action[T]) T {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, time.Minute)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		b.Fatal(err)
	}
	return v
}

// visit opens a page and waits until its answer has been worked out.
func (b *tab) visit(address string) {
	b.Helper()
	b.do(chromedp.Navigate(address))
	b.until(`document.readyState === "complete" && !document.querySelector("#main progress")`)
}

// until waits for an expression to become true, also across a new page.
func (b *tab) until(expression string) {
	b.Helper()
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		ctx, cancel := context.WithTimeout(b.ctx, 10*time.Second)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("!!("+expression+")"))
		cancel()
		if err == nil && ok {
			return
		}
	}
	b.Fatalf("never true on the page: %s", expression)
}

// dark switches between the light and the dark style of the machine.
func (b *tab) dark(on bool) {
	b.Helper()
	value := "light"
	if on {
		value = "dark"
	}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}}})
		return err
	}))
}

// picture writes a picture of the whole page, if a folder was named.
func (b *tab) picture(name string) {
	b.Helper()
	if *shots == "" {
		return
	}
	png := got(b, chromedp.FullScreenshot(100))
	if err := os.WriteFile(filepath.Join(*shots, fmt.Sprintf("%s-%d.png", name, b.width)), png, 0o644); err != nil {
		b.Error(err)
	}
}

// accessible runs axe-core on the page, with the rules of WCAG 2.2 A and AA and
// its best practice, and looks for sideways scrolling.
func (b *tab) accessible(what string) {
	b.Helper()
	script, err := os.ReadFile("../asset/node_modules/axe-core/axe.min.js")
	if err != nil {
		b.Fatalf("axe-core is not there (%v): run make assets", err)
	}
	b.do(chromedp.Evaluate[chromedp.Void](string(script)))
	text := see[string](b, `axe.run(document, {runOnly: ["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa","best-practice"]}).then(r => JSON.stringify(r.violations.map(v => ({id: v.id, help: v.help, nodes: v.nodes.slice(0,3).map(n => n.html.slice(0,160) + " -- " + n.failureSummary)}))))`)
	var found []struct {
		ID, Help string
		Nodes    []string
	}
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		b.Fatal(err)
	}
	for _, v := range found {
		b.Errorf("%s at %d: %s: %s\n\t%s", what, b.width, v.ID, v.Help, strings.Join(v.Nodes, "\n\t"))
	}
	if over := see[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 1 {
		wide := see[string](b, `[...document.querySelectorAll("main *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest(".scroll, .drawing")).slice(0,3).map(e => e.outerHTML.slice(0,120)).join(" | ")`)
		b.Errorf("%s at %d scrolls sideways by %d: %s", what, b.width, over, wide)
	}
}

// everywhere looks at a page at each width, light and dark: axe finds nothing, and
// pictures are taken.
func everywhere(t *testing.T, name, address string) {
	t.Helper()
	for _, width := range []int64{390, 820, 1440} {
		b := newTab(t, width)
		for _, dark := range []bool{false, true} {
			b.dark(dark)
			b.visit(address)
			b.accessible(name)
			if dark {
				b.picture(name + "-dark")
			} else {
				b.picture(name)
			}
		}
	}
}

// do runs steps in the tab.
func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.Fatal(err)
	}
}
