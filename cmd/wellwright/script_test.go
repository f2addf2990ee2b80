package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the stories call the program as a person would, by its name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"wellwright": main})
}

// TestStories plays every story of testdata/script: what a person types, what is
// printed, and the exit status. Dates are fixed by --as-of and --on.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"append": appendFile, "status": status, "json": jsonAt, "within": within, "narrow": narrow,
		},
	})
}

// appendFile is "append FILE MORE": what an editor does who writes at the end.
func appendFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: append FILE MORE")
	}
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_APPEND|os.O_WRONLY, 0)
	ts.Check(err)
	_, err = f.WriteString(ts.ReadFile(args[1]))
	ts.Check(err)
	ts.Check(f.Close())
}

// status is "status N wellwright ...": the command must end with that status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var code interface{ ExitCode() int }
		c, ok := err.(interface{ ExitCode() int })
		if code = c; !ok {
			ts.Fatalf("%v: %v", args, err)
		}
		got = code.ExitCode()
	}
	if got != want {
		ts.Fatalf("%s ended with status %d, want %d", strings.Join(args[1:], " "), got, want)
	}
}

// jsonAt is "json FILE PATH WANT": what stands at the dotted path is null, an
// array, a filled array, a number, a text, an object, or just that value.
func jsonAt(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: json FILE PATH WANT")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
	v, err := at(v, args[1])
	if neg {
		if err == nil {
			ts.Fatalf("%s is there", args[1])
		}
		return
	}
	ts.Check(err)
	if !fits(v, args[2]) {
		ts.Fatalf("%s is %v, want %s", args[1], v, args[2])
	}
}

// at walks a dotted path.
func at(v any, path string) (any, error) {
	for _, step := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[step]
			if !ok {
				return nil, fmt.Errorf("%s: no key %q", path, step)
			}
			v = next
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(x) {
				return nil, fmt.Errorf("%s: no item %q of %d", path, step, len(x))
			}
			v = x[i]
		default:
			return nil, fmt.Errorf("%s: nothing under %v", path, v)
		}
	}
	return v, nil
}

// fits reports whether a value is of the kind, or is the value.
func fits(v any, want string) bool {
	switch x := v.(type) {
	case nil:
		return want == "null"
	case []any:
		return want == "array" || want == "filled" && len(x) > 0
	case map[string]any:
		return want == "object"
	case float64:
		return want == "number" || want == strconv.FormatFloat(x, 'g', -1, 64)
	case string:
		return want == "text" || want == x
	}
	return want == fmt.Sprint(v)
}

// within is "within 1s wellwright ...": the command must be done in the time.
func within(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: within TIME command...")
	}
	most, err := time.ParseDuration(args[0])
	ts.Check(err)
	begun := time.Now()
	ts.Check(ts.Exec(args[1], args[2:]...))
	if took := time.Since(begun); took > most {
		ts.Fatalf("took %s, want at most %s", took, most)
	}
}

// narrow is "narrow FILE": no line is wider than a sheet.
func narrow(ts *testscript.TestScript, neg bool, args []string) {
	for i, l := range strings.Split(ts.ReadFile(args[0]), "\n") {
		if n := len([]rune(l)); n > 96 {
			ts.Fatalf("line %d is %d wide, want at most 96: %s", i+1, n, l)
		}
	}
}
