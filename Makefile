# Torchside: "make run" to use it, "make test" before every commit.
# make build   the complete program, with the app inside, at bin/torchside
# make dist    the program for every platform, with checksums, contents and licences, in bin/dist
# make shots   the pictures of the README anew
# make check   formatting, vet, staticcheck, import rules, known vulnerabilities
# make test    check, unit tests, wasm size, tests in the browser
# make bench   measurements, as ratios against floors of the same run

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := build

# Everything works without a home folder; then caches live in the clone.
ifeq ($(strip $(HOME)),)
export HOME := $(CURDIR)/.cache/home
endif
# -buildvcs=false: the program names itself by a hash of its sources, and odd git set-ups
# (another owner, no .git) must not stop a build.
export GOFLAGS := -trimpath -buildvcs=false
export CGO_ENABLED ?= 1

.PHONY: build wasm dist shots run test check bench fmt clean browser

build: wasm
	go build -ldflags "-s -w -X torchside/pwa.Version=$$(cat web/dist/version) -X main.release=$$(git describe --tags --always --dirty 2>/dev/null)" -o bin/torchside ./cmd/torchside

wasm:
	go run ./web/pack dist

# For handing out: every platform, without C, with checksums, contents and licences, in bin/dist.
dist: wasm
	go run ./deploy/dist -only "$(ONLY)"

# The pictures of the README, taken in a browser.
shots: build browser
	TORCHSIDE_PICTURES=$(CURDIR)/web/shots go test -tags browser -count=1 ./pwa/journeys/ -run '^TestReadmePictures$$'

run: build
	./bin/torchside serve

test:
	bash .ci/test.sh

check:
	bash .ci/check.sh

bench: build browser
	bash .ci/bench.sh

fmt:
	gofmt -w $$(git ls-files '*.go')

browser:
	bash .ci/browser.sh

clean:
	rm -rf bin bench web/dist/app.wasm.br web/dist/app.wasm.gz web/dist/version web/dist/sizes .cache/pack .cache/tools
