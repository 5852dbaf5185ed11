package page

import (
	"context"
	"maps"
	"net/http"
	"time"

	"golang.org/x/text/language"

	"brae/web/say"
)

// languageCookie keeps the language that a browser without a sign-in has chosen.
const languageCookie = "language"

// Speak finds the language for who is not signed in: chosen with ?lang= at any
// address, chosen so before, or asked for by the browser. [Kit.SignedIn] puts the
// account's in its place.
func (k *Kit) Speak(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		tag := say.Choose(r.Header.Get("Accept-Language"))
		if c, err := r.Cookie(languageCookie); err == nil {
			tag = say.Choose(c.Value)
		}
		if r.URL.RawQuery != "" {
			if asked := r.URL.Query().Get("lang"); asked != "" {
				tag = say.Choose(asked)
				k.KeepLanguage(w, tag)
			}
		}
		ctx := say.WithUnits(say.With(r.Context(), tag), say.ChooseUnits(r.Header.Get("Accept-Language")))
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

// KeepLanguage makes the browser speak a language before the next sign-in, too.
func (k *Kit) KeepLanguage(w http.ResponseWriter, tag language.Tag) {
	http.SetCookie(w, &http.Cookie{
		Name: languageCookie, Value: tag.String(), Path: "/", MaxAge: int(365 * 24 * time.Hour / time.Second),
		HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: k.Origin.Scheme == "https",
	})
}

// Tell puts what is wrong with a form, or in doubt, into the reader's language
// where it has numbers of the practice's settings in it. Other sentences are said
// where they are shown.
func Tell[M ~map[string]string](ctx context.Context, k *Kit, sentences M) M {
	if say.Language(ctx) == language.English || len(sentences) == 0 {
		return sentences
	}
	known, err := k.Store.ClientSentences(ctx)
	if err != nil { // then in English: better than not at all
		k.Log.ErrorContext(ctx, "sentences for clients", "error", err)
		return sentences
	}
	told := maps.Clone(sentences)
	for field, sentence := range told {
		for _, s := range known {
			if s.String() == sentence {
				told[field] = say.F(ctx, s.Format, s.Args...)
			}
		}
	}
	return told
}
