package web_test

import (
	"bufio"
	"context"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"
)

// part fetches what follows, as the page's script does.
func (s *site) part(t testing.TB, address string) (int, string, http.Header) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("HX-Request", "true")
	r.Header.Set("HX-Target", "follow")
	r.Header.Set("HX-Current-URL", s.URL+"/what-if")
	answer, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, readAll(t, answer.Body), answer.Header
}

func readAll(t testing.TB, body interface {
	Read([]byte) (int, error)
	Close() error
}) string {
	t.Helper()
	var b strings.Builder
	if _, err := bufio.NewReader(body).WriteTo(&b); err != nil {
		t.Fatal(err)
	}
	if err := body.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

const asked = "clear-water-iron"

// The page without a question shows the book; with one it shows the first answer at
// once, marked, and where the whole one is to be had. All state is in the address:
// the same address gives the same page.
func TestWhatIfPage(t *testing.T) {
	s := newSite(t, asked)
	status, text := s.get(t, s.at(asked, "/what-if"))
	if status != http.StatusOK || !strings.Contains(text, "As the book has it") || strings.Contains(text, "coarse</strong>") {
		t.Fatalf("status %d, want the book as it is", status)
	}
	_, text = s.get(t, s.at(asked, "/what-if?iron=9"))
	for _, want := range []string{"<strong>coarse</strong>", "sse-connect=", "what-if/whole?iron=9", "put-back", `value="9"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the page of a question has no %q", want)
		}
	}
	_, text = s.get(t, s.at(asked, "/what-if?iron=9&whole=yes"))
	if strings.Contains(text, "<strong>coarse</strong>") {
		t.Error("the whole answer is marked coarse")
	}
	_, text = s.get(t, s.at(asked, "/what-if?was=iron%3D9"))
	if !strings.Contains(text, "Bring the change back") || !strings.Contains(text, "/what-if?iron=9") {
		t.Error("what was put back cannot be brought back")
	}
}

// The form as a browser without scripts sends it, every field as it stands, comes
// to the address of the question alone.
func TestWhatIfFormIsCanonical(t *testing.T) {
	s := newSite(t, asked)
	_, text := s.get(t, s.at(asked, "/what-if"))
	form := url.Values{}
	for _, f := range strings.Split(text, "<input ")[1:] {
		tag, _, _ := strings.Cut(f, ">")
		if name := attribute(tag, "name"); strings.Contains(tag, `id="i-`) || name == "train" || name == "sent" {
			form.Set(name, attribute(tag, "value"))
		}
	}
	form.Set("iron", "9")
	r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, s.at(asked, "/what-if?")+form.Encode(), nil)
	client := *s.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	answer, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	if at := answer.Header.Get("Location"); answer.StatusCode != http.StatusSeeOther || !strings.HasSuffix(at, "/what-if?iron=9") {
		t.Errorf("status %d to %q, want the question alone", answer.StatusCode, at)
	}
	answer.Body.Close()
}

func attribute(tag, name string) string {
	_, after, ok := strings.Cut(tag, name+`="`)
	if !ok {
		return ""
	}
	v, _, _ := strings.Cut(after, `"`)
	return v
}

// A script gets the part alone, with the address for the history; a mistake is said
// beside its field and loses nothing.
func TestWhatIfPart(t *testing.T) {
	s := newSite(t, asked)
	s.get(t, s.at(asked, "/what-if"))
	status, text, head := s.part(t, s.at(asked, "/what-if?iron=9&sent=yes"))
	if status != http.StatusOK || strings.Contains(text, "<html") || !strings.Contains(text, "hx-swap-oob") || !strings.HasSuffix(head.Get("HX-Push-Url"), "/what-if?iron=9") {
		t.Errorf("status %d, address %q", status, head.Get("HX-Push-Url"))
	}
	_, text, _ = s.part(t, s.at(asked, "/what-if?iron=much"))
	if !strings.Contains(text, "not a number") || !strings.Contains(text, "cannot be asked") {
		t.Error("a mistake is not said")
	}
	_, text, _ = s.part(t, s.at(asked, "/what-if?train=softener,coated-sand-filter"))
	if !strings.Contains(text, "Against the order of treatment") || !strings.Contains(text, "<svg") {
		t.Error("a train against the order is to be said, and drawn")
	}
	_, text, head = s.part(t, s.at(asked, "/what-if?train=softener&add1=carbon-filter&do=add.1"))
	if !strings.Contains(head.Get("HX-Push-Url"), "softener%2Ccarbon-filter") || !strings.Contains(text, `id="train-part"`) {
		t.Errorf("a stage added: address %q", head.Get("HX-Push-Url"))
	}
	_, _, head = s.part(t, s.at(asked, "/what-if?train=softener,carbon-filter,ultraviolet&s3.rated_flow_gpm=18&do=earlier.3"))
	if at := head.Get("HX-Push-Url"); !strings.Contains(at, "softener%2Cultraviolet%2Ccarbon-filter") || !strings.Contains(at, "s2.rated_flow_gpm=18") {
		t.Errorf("a stage moved with its size: address %q", at)
	}
}

// The whole answer comes on the stream, as one event whose data is the part, and
// the stream of one who goes ends at once.
func TestWhatIfStream(t *testing.T) {
	s := newSite(t, asked)
	s.get(t, s.at(asked, "/what-if"))
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	r, _ := http.NewRequestWithContext(ctx, http.MethodGet, s.at(asked, "/what-if/whole?iron=9"), nil)
	answer, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	if kind := answer.Header.Get("Content-Type"); !strings.HasPrefix(kind, "text/event-stream") {
		t.Fatalf("the stream is %q", kind)
	}
	text := readAll(t, answer.Body)
	_, event, ok := strings.Cut(text, "event: whole\n")
	if !ok || !strings.Contains(event, "data: ") || strings.Contains(event, "<strong>coarse</strong>") {
		t.Errorf("no whole answer on the stream: %.200q", text)
	}
	for _, line := range strings.Split(strings.TrimRight(event, "\n"), "\n") {
		if !strings.HasPrefix(line, "data: ") {
			t.Fatalf("a line of the event is no data: %q", line)
		}
	}
	gone, leave := context.WithCancel(t.Context())
	r, _ = http.NewRequestWithContext(gone, http.MethodGet, s.at(asked, "/what-if/whole?iron=8"), nil)
	answer, err = s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	leave()
	answer.Body.Close()
}

// A variant is kept in the book by name, listed, laid beside the book and withdrawn.
func TestVariantOnPages(t *testing.T) {
	s := newSite(t, asked)
	_, text := s.get(t, s.at(asked, "/what-if?iron=9"))
	head := attribute(text[strings.Index(text, `name="head"`):], "value")
	keep := url.Values{"head": {head}, "query": {"iron=9"}, "name": {"rusty summer"}, "note": {"as the neighbour's"}}
	status, _ := s.post(t, s.at(asked, "/what-if/keep"), keep)
	if status != http.StatusSeeOther {
		t.Fatalf("keeping: status %d", status)
	}
	_, text = s.get(t, s.at(asked, "/what-if"))
	if !strings.Contains(text, "rusty summer") || !strings.Contains(text, "as the neighbour") {
		t.Fatal("the variant is not listed")
	}
	if status, text := s.post(t, s.at(asked, "/what-if/keep"), keep); status != http.StatusUnprocessableEntity || !strings.Contains(text, "was added to this book") || !strings.Contains(text, `value="rusty summer"`) {
		t.Errorf("kept under an old head: status %d", status)
	}
	_, rest, _ := strings.Cut(text, `name="entry" value="`)
	entry, _, _ := strings.Cut(rest, `"`)
	status, both := s.get(t, s.at(asked, "/what-if/compare?a=&b="+entry))
	if status != http.StatusOK || !strings.Contains(both, "rusty summer") || !strings.Contains(both, "<svg") {
		t.Errorf("comparing: status %d", status)
	}
	head = attribute(text[strings.Index(text, `name="head"`):], "value")
	if status, _ := s.post(t, s.at(asked, "/what-if/withdraw"), url.Values{"head": {head}, "entry": {entry}}); status != http.StatusSeeOther {
		t.Errorf("withdrawing: status %d", status)
	}
	if _, text = s.get(t, s.at(asked, "/what-if")); strings.Contains(text, "rusty summer") {
		t.Error("the withdrawn variant is still listed")
	}
}

// In metric units a bare figure is in the unit that stands beside it, and what is
// shown comes back unchanged.
func TestWhatIfInMetric(t *testing.T) {
	s := newSite(t, asked)
	s.get(t, s.at(asked, "/what-if"))
	for _, x := range []struct{ asked, address string }{{"pump=40", "/what-if?pump=40+L%2Fmin"}, {"pump=8+gpm", "/what-if?pump=8+gpm"}} {
		r, _ := http.NewRequestWithContext(t.Context(), http.MethodGet, s.at(asked, "/what-if?sent=yes&"+x.asked), nil)
		r.Header.Set("HX-Request", "true")
		r.Header.Set("HX-Target", "follow")
		r.AddCookie(&http.Cookie{Name: "view", Value: "metric."})
		answer, err := s.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text := readAll(t, answer.Body)
		if at := answer.Header.Get("HX-Push-Url"); !strings.HasSuffix(at, x.address) || strings.Contains(text, "cannot be asked") {
			t.Errorf("%s in metric: address %q", x.asked, at)
		}
	}
}
