# Two commands do all the set-up on a fresh machine: make run, make test.
# Wanted beforehand: Go 1.26 or later, Node 20 or later, make and git. Go and npm fetch the rest.
export GOTOOLCHAIN = go1.27.3
export GOFLAGS = -buildvcs=false

BIN = bin/wellwright

.PHONY: run test check bench fuzz crash build assets clean golden prior calibration

run: build
	$(BIN) demo

build: assets
	go build -o $(BIN) ./cmd/wellwright

test: assets
	sh scripts/chromium.sh
	go vet ./...
	go tool staticcheck ./...
	go test ./...

check: test
	test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	CGO_ENABLED=1 go test -race ./...

bench:
	go test -run '^$$' -bench . -benchmem ./...

# Fonts and page scripts, embedded in the program.
ASSETS = asset/fetched/.stamp
assets: $(ASSETS)
$(ASSETS): asset/package-lock.json asset/fetch.sh
	sh asset/fetch.sh

# Each parser is fuzzed for FUZZ_TIME: make fuzz FUZZ_TIME=10m
FUZZ_TIME = 30s
fuzz:
	scripts/fuzz.sh $(FUZZ_TIME)

# A program that writes into a store is killed, and stores are spoilt, a thousand times.
crash:
	go test ./store -run 'TestKilled|TestLostEnd|TestDamaged' -v -timeout 30m -kills 1000 -damages 1000

golden:
	go test ./sheet -update

# The prior of raw waters is fitted anew from the public data kept beside the repository.
prior:
	go run ./scripts/fitprior -data ../shared/data -o cloud/prior.json

# How often what is believed comes true: invented wells, and hidden figures of the public sheets.
calibration:
	go test ./cloud -run 'TestCalibrationPage' -update -timeout 60m

clean:
	rm -rf bin
