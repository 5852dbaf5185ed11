package say

import (
	"context"

	"golang.org/x/text/language"

	"brae/domain/activity"
)

var matcher = language.NewMatcher(Languages)

// Choose returns the language of ours that is nearest to what a browser asks for:
// an Accept-Language header, or the tag of one language.
func Choose(accept string) language.Tag {
	_, i := language.MatchStrings(matcher, accept)
	return Languages[i]
}

// ChooseUnits returns the unit of distance where the reader's language is spoken:
// miles where roads are measured in them.
//
// Source: Unicode CLDR, measurement data: the United States, and the United
// Kingdom for roads (from memory).
func ChooseUnits(accept string) activity.Unit {
	tags, _, err := language.ParseAcceptLanguage(accept)
	if err != nil || len(tags) == 0 {
		return activity.Kilometres
	}
	// Only a region that was named counts: "en" alone is spoken in many places.
	if region, sure := tags[0].Region(); sure == language.Exact && (region.String() == "US" || region.String() == "GB") {
		return activity.Miles
	}
	return activity.Kilometres
}

type unitsKey struct{}

// WithUnits returns a context whose pages tell distances in the unit.
func WithUnits(ctx context.Context, u activity.Unit) context.Context {
	return context.WithValue(ctx, unitsKey{}, u)
}

// Units is the unit of distance of the context, kilometres if none was chosen.
func Units(ctx context.Context) activity.Unit {
	if u, ok := ctx.Value(unitsKey{}).(activity.Unit); ok && u == activity.Miles {
		return activity.Miles
	}
	return activity.Kilometres
}

// ownNames are the names of the languages as their speakers write them.
var ownNames = map[language.Tag]string{language.English: "English", language.Spanish: "Español"}

// OwnName is the name of a language as its speakers write it.
func OwnName(tag language.Tag) string { return ownNames[tag] }

// Others are the languages that the context is not in.
func Others(ctx context.Context) []language.Tag {
	var list []language.Tag
	for _, tag := range Languages {
		if tag != Language(ctx) {
			list = append(list, tag)
		}
	}
	return list
}
