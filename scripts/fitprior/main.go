// Command fitprior fits the prior of raw household-well waters from the public
// data kept beside the repository, and writes it with the page that tells of it.
package main

import (
	"flag"
	"fmt"
	"os"
)

const (
	madeBy = "go run ./scripts/fitprior -data ../shared/data -o cloud/prior.json"
	about  = "Raw waters of household wells before anything is measured: for each redox class a normal law in the natural logarithm of each coordinate (temperature and pH as they are). Fitted on public-supply and monitoring wells, widened, and completed by judgement where a kind says so. See docs/prior.md."
)

func main() {
	data := flag.String("data", "../shared/data", "folder of the public data")
	out := flag.String("o", "cloud/prior.json", "file of the prior")
	page := flag.String("page", "docs/prior.md", "page about it")
	flag.Parse()
	if err := run(*data, *out, *page); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(data, out, page string) error {
	m, err := build(data)
	if err != nil {
		return err
	}
	text, err := m.prior.text()
	if err != nil {
		return err
	}
	if err := os.WriteFile(out, text, 0o644); err != nil {
		return err
	}
	return os.WriteFile(page, m.page(), 0o644)
}
