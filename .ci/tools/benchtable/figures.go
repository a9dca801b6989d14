package main

import (
	"regexp"
	"strconv"
	"strings"
)

// figures are measured values by "name unit", as "Solver_acetylene_oxygen µs/flame".
type figures map[string]float64

// sizeLine is a line of .ci/size.sh: "app    raw=11906886 gzip=2678254 brotli=1852588".
var sizeLine = regexp.MustCompile(`^(app|floor|small)\s+raw=\d+ gzip=\d+ brotli=(\d+)`)

// processors is what package testing puts behind a name.
var processors = regexp.MustCompile(`-\d+$`)

// read takes the lines of Go benchmarks and of the sizes; all others are for people. Of a benchmark that ran more than once the least
// disturbed run counts: the shortest.
func (f figures) read(text string) {
	for _, l := range strings.Split(text, "\n") {
		if m := sizeLine.FindStringSubmatch(l); m != nil {
			f.keep(m[1]+" brotli", m[2])
			continue
		}
		fields := strings.Fields(l)
		if len(fields) < 4 || !strings.HasPrefix(fields[0], "Benchmark") {
			continue
		}
		name := processors.ReplaceAllString(strings.TrimPrefix(fields[0], "Benchmark"), "")
		for i := 2; i+1 < len(fields); i += 2 {
			f.keep(name+" "+fields[i+1], fields[i])
		}
	}
}

func (f figures) keep(key, number string) {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return // a line that only looks like one
	}
	if old, ok := f[key]; !ok || v < old {
		f[key] = v
	}
}
