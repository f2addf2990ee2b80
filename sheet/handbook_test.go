package sheet_test

import (
	"flag"
	"os"
	"testing"

	"wellwright/plan"
	"wellwright/sheet"
)

const handbookFile = "../docs/handbook.md"

// The handbook in docs is what the register says; a stale one fails.
func TestHandbookIsFresh(t *testing.T) {
	want := sheet.Handbook(plan.Formulas())
	if updating() {
		if err := os.WriteFile(handbookFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(handbookFile)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is stale: run go test ./sheet -run TestHandbook -update", handbookFile)
	}
}

// updating reports whether the golden files of this package are being written,
// by the flag of whichever test file declares it.
func updating() bool {
	f := flag.Lookup("update")
	return f != nil && f.Value.String() == "true"
}
