package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"

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
	answers := json.NewEncoder(out)
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
		if err := answers.Encode(answer); err != nil {
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
// answer. Every key of the input is needed unless its tag has omitempty; a key
// that the input does not have is refused.
func answering[In, Out any](f func(In) (Out, error)) func([]byte) (any, error) {
	return func(line []byte) (any, error) {
		in, err := decode[In](line)
		if err != nil {
			return nil, err
		}
		return f(in)
	}
}

func decode[In any](line []byte) (In, error) {
	var in In
	var keys map[string]json.RawMessage
	if err := json.Unmarshal(line, &keys); err != nil {
		return in, errors.New("this is not a JSON object")
	}
	if keys == nil {
		return in, errors.New("this is not a JSON object")
	}
	if err := needed(reflect.TypeFor[In](), keys); err != nil {
		return in, err
	}
	decoder := json.NewDecoder(bytes.NewReader(line))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&in); err != nil {
		return in, decodeError[In](err, keys)
	}
	return in, nil
}

// needed returns an error for the first key that is missing.
func needed(t reflect.Type, keys map[string]json.RawMessage) error {
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		if _, ok := keys[name]; !ok && options != "omitempty" && name != "" {
			return fieldError{name, "This key is missing."}
		}
	}
	return nil
}

// decodeError names the key that a line failed at. A value of one of our types
// (a class, a day) says what is wrong but not where, so each key is tried alone.
func decodeError[In any](err error, keys map[string]json.RawMessage) error {
	if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		return fieldError{wrong.Field, "This must be " + jsonWord(wrong.Type) + ", not " + wrong.Value + "."}
	}
	if field, ok := strings.CutPrefix(err.Error(), `json: unknown field "`); ok {
		return fieldError{strings.TrimSuffix(field, `"`), "This key is not known."}
	}
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		alone, marshalErr := json.Marshal(map[string]json.RawMessage{key: keys[key]})
		if marshalErr == nil && json.Unmarshal(alone, new(In)) != nil {
			return fieldError{key, err.Error()}
		}
	}
	return err
}

func jsonWord(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Int, reflect.Int64, reflect.Int16, reflect.Int8, reflect.Uint8, reflect.Uint16:
		return "a whole number"
	case reflect.Float64:
		return "a number"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice:
		return "a list"
	case reflect.Struct, reflect.Map:
		return "an object"
	}
	return "a text"
}

// keysOf writes citation keys as texts.
func keysOf(cites []source.Key) []string {
	keys := make([]string, len(cites))
	for i, k := range cites {
		keys[i] = string(k)
	}
	return keys
}
