// Package say puts what a client reads into the client's language. The English
// text is its own key; the translations stand beside this file, by topic.
//
// T is a text, F a text with values, N one of two texts by a number, Day and its
// like a date. Key marks a text in a table that T says later. A test collects all
// four, and the texts of the domain that clients read: each must be translated,
// and each translation used.
//
// What the practice reads is English and does not pass through here.
package say

import (
	"context"
	"fmt"
	"maps"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// Languages are the ones that all client pages speak, the fallback first.
var Languages = []language.Tag{language.English, language.Spanish}

// translations are the texts by language and English text. Files of this package
// add to them with translate.
var translations = map[language.Tag]map[string]string{language.Spanish: {}}

// twice are the keys that two files have different texts for. A test fails on them.
var twice []string

// translate adds texts of a language. The first text of a key stays.
func translate(tag language.Tag, texts map[string]string) bool {
	for english, text := range texts {
		if old, ok := translations[tag][english]; !ok {
			translations[tag][english] = text
		} else if old != text {
			twice = append(twice, english)
		}
	}
	return true
}

// printers are made once, after all files have added their texts.
var printers map[language.Tag]*message.Printer

func init() {
	texts := catalog.NewBuilder(catalog.Fallback(language.English))
	for tag, list := range translations {
		for english, text := range list {
			if err := texts.SetString(tag, english, text); err != nil {
				panic(fmt.Sprintf("say: %q in %s: %v", english, tag, err))
			}
		}
	}
	printers = map[language.Tag]*message.Printer{}
	for _, tag := range Languages {
		printers[tag] = message.NewPrinter(tag, message.Catalog(texts))
	}
}

type languageKey struct{}

// With returns a context whose pages are in the language.
func With(ctx context.Context, tag language.Tag) context.Context {
	return context.WithValue(ctx, languageKey{}, tag)
}

// Language is the language of the context, English if none was chosen.
func Language(ctx context.Context) language.Tag {
	tag, ok := ctx.Value(languageKey{}).(language.Tag)
	if !ok {
		return language.English
	}
	return tag
}

// T is a text in the language of the context.
func T(ctx context.Context, english string) string {
	tag := Language(ctx)
	if text, ok := translations[tag][english]; ok {
		return text
	}
	return english
}

// F is a format in the language of the context, filled in; numbers are written as
// the language writes them.
func F(ctx context.Context, english string, args ...any) string {
	printer, ok := printers[Language(ctx)]
	if !ok {
		printer = printers[language.English]
	}
	return printer.Sprintf(english, args...)
}

// N is F with the text for one or that for any other number, which both are given
// n first: "%d minute", "%d minutes". All languages here tell only these two apart.
func N(ctx context.Context, n int, one, many string, more ...any) string {
	if n == 1 {
		many = one
	}
	return F(ctx, many, append([]any{n}, more...)...)
}

// Tenths writes a number of tenths: "5.6", "5,6"; whole ones without the tenth.
func Tenths(ctx context.Context, n int) string {
	if n%10 == 0 {
		return F(ctx, "%d", n/10)
	}
	return F(ctx, "%.1f", float64(n)/10)
}

// Key marks a text in a table, for T to say where the language is known.
func Key(english string) string { return english }

// Texts returns the texts of a language by their English, all of them.
func Texts(tag language.Tag) map[string]string { return maps.Clone(translations[tag]) }
