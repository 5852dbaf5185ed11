// Package say puts what a client reads into the client's language. The English
// text is its own key; the other languages stand in a file each beside this one.
//
// What the practice reads is English and does not pass through here.
package say

import (
	"context"
	"fmt"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// Languages are the ones that all client pages speak, the fallback first.
var Languages = []language.Tag{language.English, language.Spanish}

// translations are the texts by language and English text. Files of this package
// add to them with translate.
var translations = map[language.Tag]map[string]string{language.Spanish: {}}

// translate adds texts of a language. It panics on two texts for one key.
func translate(tag language.Tag, texts map[string]string) bool {
	for english, text := range texts {
		if old, ok := translations[tag][english]; ok && old != text {
			panic(fmt.Sprintf("say: two texts in %s for %q", tag, english))
		}
		translations[tag][english] = text
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
