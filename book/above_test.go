package book

import "testing"

func TestQuoteAbove(t *testing.T) {
	for _, x := range []struct{ in, want string }{
		{"    total coliform: >200 per 100 mL", `    total coliform: ">200 per 100 mL"`},
		{"  - > 5 mg/L # off the scale", `  - "> 5 mg/L" # off the scale`},
		{`  iron: ">5 mg/L"`, `  iron: ">5 mg/L"`},
		{"  note: >\n    folded text", "  note: >\n    folded text"},
		{"  note: >2\n    folded text", "  note: >2\n    folded text"},
		{"  # above: >5 mg/L", "  # above: >5 mg/L"},
	} {
		if got := quoteAbove(x.in); got != x.want {
			t.Errorf("%q becomes %q, want %q", x.in, got, x.want)
		}
	}
	b, found := Read("f.yaml", []byte("- entry: 1\n  date: 2031-05-01\n  laboratory report:\n    tap: T1\n    sampled: 2031-04-30\n    results:\n      total coliform: >200 per 100 mL\n      total iron: > 5 mg/L\n"))
	if bad := Mistakes(found); len(bad) > 0 || len(b.Entries) != 1 {
		t.Errorf("a count above what plates can show: %v", bad)
	}
}
