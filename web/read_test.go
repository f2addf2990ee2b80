package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"wellwright/demo"
)

// readPages are the pages one reads, below the path of a well.
var readPages = []string{"/report", "/forms", "/options", "/options?open=all", "/options/softener", "/working", "/book", "/factors"}

// Every page of every demonstration well is whole, in US or in metric units by
// turns: it parses, every name in it is used once, every field has a label, nothing
// needs a style or a script within the page, and links of every kind lead somewhere.
func TestPagesToReadAreWhole(t *testing.T) {
	names := demoNames(t)
	if testing.Short() {
		names = names[:3]
	}
	s := newSite(t, names...)
	follow := map[string]string{} // a path of each kind
	for i, name := range names {
		for _, page := range readPages {
			status, text := s.in(t, s.at(name, page), i%2 == 1)
			if status != http.StatusOK {
				t.Errorf("%s%s: status %d", name, page, status)
				continue
			}
			for _, path := range sound(t, name+page, text) {
				follow[kindOfPath(path)] = path
			}
		}
	}
	for _, path := range follow {
		if status, _ := s.get(t, s.URL+path); status != http.StatusOK {
			t.Errorf("a page leads to %s: status %d", path, status)
		}
	}
}

// kindOfPath leaves out of a path which well, train, entry and figure it names.
func kindOfPath(path string) string {
	u, _ := url.Parse(path)
	parts := strings.Split(u.Path, "/")
	for i := range parts {
		if i > 0 && slices.Contains([]string{"wells", "options", "files"}, parts[i-1]) {
			parts[i] = "*"
		}
	}
	var keys []string
	for key := range u.Query() {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return strings.Join(parts, "/") + "?" + strings.Join(keys, "&")
}

func demoNames(t testing.TB) []string {
	t.Helper()
	wells, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, w := range wells {
		names = append(names, w.Name)
	}
	return names
}

// in fetches a page in one of the systems of units.
func (s *site) in(t testing.TB, address string, metric bool) (int, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	units := "us"
	if metric {
		units = "metric"
	}
	r.AddCookie(&http.Cookie{Name: "view", Value: units + "."})
	for {
		status, text := s.send(t, r)
		if !strings.Contains(text, "<h1>Working it out</h1>") {
			return status, text
		}
	}
}

// sound looks at a page and returns the paths of ours that it links to.
func sound(t *testing.T, what, text string) []string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	c := &pageCheck{T: t, what: what, ids: map[string]int{}, labels: map[string]bool{}}
	c.walk(doc)
	for id, n := range c.ids {
		if n > 1 {
			t.Errorf("%s: the id %q stands %d times", what, id, n)
		}
	}
	for _, ref := range c.refs {
		if c.ids[ref] == 0 {
			t.Errorf("%s: #%s leads nowhere on the page", what, ref)
		}
	}
	for _, f := range c.fields {
		if !c.labels[f] {
			t.Errorf("%s: the field %q has no label", what, f)
		}
	}
	if n := strings.Count(text, "<h1"); n != 1 {
		t.Errorf("%s: %d headings of the first order", what, n)
	}
	for _, bad := range []string{"ZgotmplZ", "<no value>", "%!", "NaN", "+Inf", "{{define", "{{range"} {
		if strings.Contains(text, bad) {
			t.Errorf("%s: %q stands on the page", what, bad)
		}
	}
	slices.Sort(c.paths)
	return slices.Compact(c.paths)
}

// pageCheck walks a page.
type pageCheck struct {
	*testing.T
	what   string
	ids    map[string]int
	labels map[string]bool // for which field
	fields []string
	refs   []string // ids referred to
	paths  []string
	inside []string // elements around
}

func (c *pageCheck) walk(n *html.Node) {
	if n.Type == html.ElementNode {
		c.element(n)
		c.inside = append(c.inside, n.Data)
		defer func() { c.inside = c.inside[:len(c.inside)-1] }()
	}
	for k := n.FirstChild; k != nil; k = k.NextSibling {
		c.walk(k)
	}
}

func (c *pageCheck) element(n *html.Node) {
	at := map[string]string{}
	for _, a := range n.Attr {
		at[a.Key] = a.Val
		if a.Key == "style" || strings.HasPrefix(a.Key, "on") || strings.HasPrefix(a.Key, "hx-on") || strings.HasPrefix(a.Val, "javascript:") {
			c.Errorf("%s: <%s %s=%q> is against the policy of the page", c.what, n.Data, a.Key, a.Val)
		}
		switch a.Key {
		case "id":
			c.ids[a.Val]++
		case "aria-labelledby", "aria-describedby":
			c.refs = append(c.refs, strings.Fields(a.Val)...)
		}
	}
	switch n.Data {
	case "script":
		if at["src"] == "" {
			c.Errorf("%s: a script within the page", c.what)
		}
	case "style":
		if !slices.Contains(c.inside, "svg") {
			c.Errorf("%s: a style within the page", c.what)
		}
	case "label":
		c.labels[at["for"]] = true
	case "input", "select", "textarea":
		if at["type"] != "hidden" && !slices.Contains(c.inside, "label") {
			c.fields = append(c.fields, at["id"])
		}
	case "a":
		c.link(at["href"])
	}
}

func (c *pageCheck) link(to string) {
	u, err := url.Parse(to)
	switch {
	case err != nil:
		c.Errorf("%s: link %q: %v", c.what, to, err)
	case u.Host != "":
		c.Errorf("%s: the link %q leaves this server", c.what, to)
	case u.Path == "" && u.Fragment != "":
		c.refs = append(c.refs, u.Fragment)
	case strings.HasPrefix(to, "/"):
		u.Fragment = ""
		c.paths = append(c.paths, u.String())
	}
}

// A book without an entry still has all its pages.
func TestPagesToReadOfAnEmptyBook(t *testing.T) {
	s := newSite(t)
	id, err := s.Books.Add(t.Context(), []byte("# nothing yet\n"), now)
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range readPages {
		status, text := s.get(t, fmt.Sprintf("%s/wells/%s%s", s.URL, id, page))
		if status != http.StatusOK {
			t.Errorf("%s: status %d", page, status)
			continue
		}
		sound(t, "empty"+page, text)
	}
}
