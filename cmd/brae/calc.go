package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"brae/domain"
	"brae/domain/source"
)

type calcCommand struct {
	Name    string `arg:"" optional:"" help:"What to calculate; see --list."`
	List    bool   `help:"Print the names."`
	Example bool   `help:"Print an input line that works."`
	Codes   bool   `help:"Print the codes that the input knows, with what they stand for."`
}

// calculation is one NAME of brae calc: a thin way to the function that the pages
// call, too.
type calculation struct {
	example string
	codes   func() []code // nil if the input has no codes
	answer  func(line []byte) (any, error)
}

// code is a word of the input with what it stands for.
type code struct {
	Key  string `json:"key"` // of the input that takes it
	Code string `json:"code"`
	Row  string `json:"row,omitempty"` // of the published or the practice's table
	Says string `json:"says"`
}

// calculations are all that brae calc can answer, by name.
var calculations = map[string]calculation{}

func (c calcCommand) Run(std streams) error {
	if c.List {
		for _, name := range slices.Sorted(maps.Keys(calculations)) {
			fmt.Fprintln(std.out, name)
		}
		return nil
	}
	calculation, ok := calculations[c.Name]
	if !ok {
		return fmt.Errorf("calc: %q is not known; brae calc --list prints the names", c.Name)
	}
	switch {
	case c.Example:
		fmt.Fprintln(std.out, calculation.example)
		return nil
	case c.Codes && calculation.codes == nil:
		return fmt.Errorf("calc: %s has no codes", c.Name)
	case c.Codes:
		out := json.NewEncoder(std.out)
		for _, code := range calculation.codes() {
			if err := out.Encode(code); err != nil {
				return err
			}
		}
		return nil
	}
	return calculation.run(std.in, std.out)
}

// longestLine bounds an input line.
const longestLine = 1 << 20

// run answers line by line. A line that cannot be answered gets an error line in
// its place, and the others are answered all the same.
func (c calculation) run(in io.Reader, out io.Writer) error {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, longestLine)
	failed := false
	for lines.Scan() {
		line := bytes.TrimSpace(lines.Bytes())
		if len(line) == 0 {
			continue
		}
		answer, err := c.answer(line)
		if err != nil {
			failed = true
			answer = newRefusal(err)
		}
		text, err := json.Marshal(answer)
		if err != nil { // JSON has no infinity
			failed = true
			if text, err = json.Marshal(refusal{Error: "The answer is too large to write."}); err != nil {
				return err
			}
		}
		if _, err := out.Write(append(text, '\n')); err != nil {
			return err
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("calc: read a line: %w", err)
	}
	if failed {
		return errAnswered
	}
	return nil
}

// inside names the problems of an object within the input by their whole path.
func inside(object string, err error) error {
	if r := newRefusal(err); r.Field != "" {
		return fieldError{object + "." + r.Field, r.Error}
	}
	return err
}

// refusal is what stands in place of an answer.
type refusal struct {
	Error string `json:"error"`
	Field string `json:"field"`
}

// fieldError is a problem with one key of the input.
type fieldError struct{ field, sentence string }

func (e fieldError) Error() string { return e.field + ": " + e.sentence }

func newRefusal(err error) refusal {
	if f, ok := errors.AsType[fieldError](err); ok {
		return refusal{f.sentence, f.field}
	}
	if problems, ok := errors.AsType[domain.Problems](err); ok {
		field := slices.Min(slices.Collect(maps.Keys(problems)))
		return refusal{problems[field], field}
	}
	return refusal{Error: err.Error()}
}

// answering makes a calculation's answer of a function from an input to an
// answer. Every key of the input is needed unless its tag has omitempty; where
// needs are given, only they are. A key that the input does not have is refused.
func answering[In, Out any](f func(In) (Out, error), needs ...string) func([]byte) (any, error) {
	return func(line []byte) (any, error) {
		in, err := decode[In](line, needs)
		if err != nil {
			return nil, err
		}
		return f(in)
	}
}

// keysOf writes citation keys as texts, each once.
func keysOf(cites ...source.Key) []string {
	keys := []string{}
	for _, k := range cites {
		if !slices.Contains(keys, string(k)) {
			keys = append(keys, string(k))
		}
	}
	return keys
}

// citesOf returns what the rules with these ids rest on.
func citesOf(rules []source.Rule, ids ...string) []source.Key {
	var cites []source.Key
	for _, id := range ids {
		for _, r := range rules {
			if r.ID == id {
				cites = append(cites, r.Cites...)
			}
		}
	}
	return cites
}
