package media

import (
	"strings"
	"testing"
)

func TestProcessesParse(t *testing.T) {
	if n := len(Processes()); n != 32 {
		t.Errorf("%d processes, want the 31 of the contract and the coagulant feed", n)
	}
	for _, p := range Processes() {
		for _, written := range []string{string(p), strings.ToUpper(string(p)), " " + strings.ReplaceAll(string(p), "-", "_") + " "} {
			got, err := ParseProcess(written)
			if err != nil || got != p {
				t.Errorf("ParseProcess(%q) = %q, %v, want %q", written, got, err, p)
			}
		}
		if p.Words() == string(p) && strings.Contains(string(p), "-") {
			t.Errorf("%s has no words of its own", p)
		}
	}
}

func TestProcessSpellings(t *testing.T) {
	tests := []struct{ written, want string }{
		{"sofener", "did you mean softener?"},
		{"chlorine-fed", "did you mean chlorine-feed?"},
		{"greensand", "greensand-filter"},
		{"carbon", "carbon-filter"},
		{"teleporter", `process "teleporter" is not known`},
		{"", `process "" is not known`},
		{strings.Repeat("x", 100000), "is not known"},
	}
	for _, tt := range tests {
		_, err := ParseProcess(tt.written)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("ParseProcess(%.20q) = %v, want %q in it", tt.written, err, tt.want)
		}
	}
}

func TestEveryProcessIsBuilt(t *testing.T) {
	for _, p := range Processes() {
		if !p.Built() {
			t.Errorf("%s is not offered", p)
		}
	}
	if Process("teleporter").Built() {
		t.Error("an unknown process is said to be built")
	}
}

func TestEdits(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "abc", 0}, {"flaw", "lawn", 2}} {
		if got := edits(tt.a, tt.b); got != tt.want {
			t.Errorf("edits(%q, %q) = %d, want %d (the usual textbook examples of Levenshtein's distance)", tt.a, tt.b, got, tt.want)
		}
	}
}
