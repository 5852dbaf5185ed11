package main

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// errNoObject is the refusal of a line that cannot be read at all.
var errNoObject = fieldError{sentence: "This is not a JSON object."}

// decode reads one line. encoding/json alone would let pass what must not be
// misread: keys that are missing, unknown, in capitals or there twice.
func decode[In any](line []byte, needs []string) (In, error) {
	var in In
	if !json.Valid(line) || bytes.TrimSpace(line)[0] != '{' {
		return in, errNoObject
	}
	if err := checkObject(reflect.TypeFor[In](), line, "", needs); err != nil {
		return in, err
	}
	return in, json.Unmarshal(line, &in)
}

// check compares a value of the input with the type that it is read into. It
// names what is wrong by its path: parts[0].minutes.
func check(t reflect.Type, raw json.RawMessage, path string) error {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case string(raw) == "null":
		return nil
	case !readsItself(t) && t.Kind() == reflect.Struct:
		if raw[0] != '{' {
			return wrongKind(path, t, raw)
		}
		return checkObject(t, raw, path, nil)
	case !readsItself(t) && t.Kind() == reflect.Slice:
		var items []json.RawMessage
		if json.Unmarshal(raw, &items) != nil {
			return wrongKind(path, t, raw)
		}
		for i, item := range items {
			at := fmt.Sprintf("%s[%d]", path, i)
			if string(item) == "null" {
				return fieldError{at, "This is null."}
			}
			if err := check(t.Elem(), item, at); err != nil {
				return err
			}
		}
		return nil
	case t.Kind() == reflect.Map:
		if raw[0] != '{' {
			return wrongKind(path, t, raw)
		}
		keys, err := keysIn(raw, path)
		if err != nil {
			return err
		}
		for _, k := range keys {
			if err := check(t.Elem(), k.value, join(path, k.name)); err != nil {
				return err
			}
		}
		return nil
	}
	return checkValue(t, raw, path)
}

// checkObject checks the keys of an object and what stands behind them.
func checkObject(t reflect.Type, raw json.RawMessage, path string, needs []string) error {
	keys, err := keysIn(raw, path)
	if err != nil {
		return err
	}
	fields := map[string]reflect.Type{}
	for i := range t.NumField() {
		name, options, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		fields[name] = t.Field(i).Type
		needed := options != "omitempty"
		if needs != nil {
			needed = slices.Contains(needs, name)
		}
		at := slices.IndexFunc(keys, func(k key) bool { return k.name == name })
		switch {
		case !needed:
		case at < 0:
			return fieldError{join(path, name), "This key is missing."}
		case string(keys[at].value) == "null":
			return fieldError{join(path, name), "This is null."}
		}
	}
	for _, k := range keys {
		field, ok := fields[k.name]
		if !ok {
			return fieldError{join(path, k.name), "This key is not known."}
		}
		if err := check(field, k.value, join(path, k.name)); err != nil {
			return err
		}
	}
	return nil
}

type key struct {
	name  string
	value json.RawMessage
}

// keysIn returns the keys of an object in their order. One that stands twice is
// refused: nobody could say which counts.
func keysIn(object json.RawMessage, path string) ([]key, error) {
	d := json.NewDecoder(bytes.NewReader(object))
	if _, err := d.Token(); err != nil {
		return nil, err
	}
	var keys []key
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, err
		}
		k := key{name: name.(string)}
		if err := d.Decode(&k.value); err != nil {
			return nil, err
		}
		if slices.ContainsFunc(keys, func(other key) bool { return other.name == k.name }) {
			return nil, fieldError{join(path, k.name), "This key stands here twice."}
		}
		keys = append(keys, k)
	}
	return keys, nil
}

func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// readsItself reports whether a type reads its own text, as a class or a day does.
func readsItself(t reflect.Type) bool {
	p := reflect.PointerTo(t)
	return p.Implements(reflect.TypeFor[json.Unmarshaler]()) || p.Implements(reflect.TypeFor[encoding.TextUnmarshaler]())
}

func checkValue(t reflect.Type, raw json.RawMessage, path string) error {
	if t == reflect.TypeFor[json.Number]() && raw[0] == '"' {
		return wrongKind(path, t, raw)
	}
	err := json.Unmarshal(raw, reflect.New(t).Interface())
	if err == nil {
		return nil
	}
	if _, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		return wrongKind(path, t, raw)
	}
	return fieldError{path, sentence(err.Error())}
}

// sentence makes a sentence of an error's text.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(text[size:], ".") + "."
}

func wrongKind(path string, t reflect.Type, raw json.RawMessage) error {
	return fieldError{path, "This must be " + wordFor(t) + ", not " + string(raw[:min(len(raw), 40)]) + "."}
}

func wordFor(t reflect.Type) string {
	if t == reflect.TypeFor[json.Number]() {
		return "a number"
	}
	if readsItself(t) {
		return "a text"
	}
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
