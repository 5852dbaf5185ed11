# What a developer and CI run. `make demo` and `make test` are all that a fresh
# machine needs, besides Go: they install the rest.

export CGO_ENABLED ?= 0
GO ?= go
TEMPL := $(GO) tool templ

.PHONY: demo build test check unit bench lint generate stale vuln fuzz clean

demo: build ## an invented practice to look around in
	@.ci/need postgres
	@bin/brae demo

build: ## bin/brae
	@$(GO) build -trimpath -ldflags '-s -w' -o bin/brae ./cmd/brae

test: ## everything CI runs
	@.ci/need postgres chromium axe
	@$(MAKE) --no-print-directory lint stale vuln unit

unit: build ## all tests, the browser's included
	$(GO) test -shuffle=on -count=1 -timeout 20m ./...

race: ## all tests but the browser's under the race detector
	CGO_ENABLED=1 $(GO) test -race -shuffle=on -count=1 -timeout 20m $$($(GO) list ./... | grep -v /e2e)

lint:
	@test -z "$$(gofmt -l $$(git ls-files '*.go'))" || { echo "gofmt would change:"; gofmt -l $$(git ls-files '*.go'); exit 1; }
	@$(TEMPL) fmt -fail web
	@$(GO) vet ./...
	@$(GO) tool staticcheck ./...

generate: ## templ components to Go
	@$(TEMPL) fmt web
	@$(TEMPL) generate -path web -log-level error

stale: ## fails when generated files or go.mod are not current
	@before=$$(git status --porcelain -- web go.mod go.sum; git diff -- web go.mod go.sum | cksum); \
	$(TEMPL) generate -path web -log-level error && $(GO) mod tidy && \
	after=$$(git status --porcelain -- web go.mod go.sum; git diff -- web go.mod go.sum | cksum); \
	test "$$before" = "$$after" || { echo "generated files were stale: commit what 'make generate' and 'go mod tidy' changed"; git status --short -- web go.mod go.sum; exit 1; }

vuln: ## known vulnerabilities; needs the vulnerability database, says so where it cannot be reached
	@$(GO) tool govulncheck ./... || { test $$? -ne 3 && echo "govulncheck could not reach its database: SKIPPED"; }

bench: build ## beside what the machine can do at all; and pages on a slow phone
	@.ci/need postgres chromium
	$(GO) test -run '^$$' -bench . -benchmem ./domain/... ./cmd/brae
	$(GO) test -run '^$$' -bench 'Ratios|Vitals' -benchtime 1x -timeout 20m -v ./e2e/bench

clean:
	rm -rf bin .cache/e2e
