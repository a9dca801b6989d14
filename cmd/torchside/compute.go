package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// topic answers questions on one subject: JSON objects in, one answer a line out. It stops at the
// first bad question with an error that names line, field, value and allowed range.
type topic func(in io.Reader, out io.Writer) error

// topics are all subjects by name.
var topics = map[string]topic{}

// compute runs one topic over standard input.
func (p program) compute(_ context.Context, args []string) error {
	if len(args) != 1 {
		return usageError{"compute takes one topic: " + topicNames()}
	}
	answer, ok := topics[args[0]]
	if !ok {
		return fmt.Errorf("there is no topic %q; the topics are: %s", args[0], topicNames())
	}
	return answer(p.stdin, p.stdout)
}

func topicNames() string {
	return strings.Join(slices.Sorted(maps.Keys(topics)), ", ")
}
