package book
import ("testing";"strings";"time";"fmt";"os")
func TestPerf(t *testing.T) {
	a,_ := os.ReadFile("testdata/scenario-a.yaml")
	n := 1<<20
	rep := func(s string) string { return strings.Repeat(s, n/len(s)) }
	for _, c := range []struct{n, s string}{
		{"real", strings.Repeat(string(a), n/len(a))},
		{"kv", rep("a: b\n")}, {"open", rep("[")}, {"brace", rep("{")}, {"dash", rep("- ")}, {"q", rep("? ")}, {"dq", rep("\"")}, {"sq","- a: '"+rep("x")}, {"lit","- a: |\n"+rep("  x\n")},
		{"entries", rep("- entry: 1\n")}, {"badentries", rep("- [\n")}, {"colon", rep(":")}, {"tab", rep("\t")}, {"hash", rep("#")}, {"hash2", rep("#\n")}, {"flowlist", "[" + rep("a,") + "]"},{"flowlist2", "[" + rep("{a: b},") + "]"},
		{"nl", rep("\n")}, {"sp", rep(" ")}, {"indent", func() string { var b strings.Builder; for i:=0;b.Len()<n;i++ { b.WriteString(strings.Repeat(" ", i)+"a:\n") }; return b.String() }()},
		{"multi plain", "- a: " + rep("x\n    ")}, {"dquoted multi", "- a: \"" + rep("x\n    ")+"\""}, {"anch", rep("&a ")}, {"dashes", rep("- a\n- ")}, {"pipe", rep("- |\n")}, {"pct", rep("%")}, {"dots", rep("...\n")}, {"docs", rep("---\n")}, {"esc", "- \""+rep("\\n")+"\""},{"keyopen", rep("a: [")},{"crlf", rep("a: b\r\n")},{"long", "- "+rep("x")},{"longkey", "- "+rep("x")+": b"},
		{"map in seq", rep("- a: 1\n  b: 2\n")},{"dupkeys", "- "+rep("a: 1\n  ")},
	} {
		s := time.Now()
		_, f := Read("x", []byte(c.s))
		fmt.Println(c.n, time.Since(s).Round(time.Millisecond), len(f))
	}
}
