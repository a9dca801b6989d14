# Sourced by the other scripts: builds the checking tools of .ci/tools, whose go.mod pins their
# versions, into .cache/tools and puts that folder first on PATH.
build_tools() {
	mkdir -p .cache/tools
	go build -C .ci/tools -o "$PWD/.cache/tools/" "$@"
	export PATH="$PWD/.cache/tools:$PATH"
}
