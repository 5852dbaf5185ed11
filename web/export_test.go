package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
)

// Routes lists the routes of a handler that New has made, as method and pattern.
// A test asks for each of them as everybody.
func Routes(h http.Handler) []string {
	var list []string
	_ = chi.Walk(h.(chi.Routes), func(method, route string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		list = append(list, method+" "+route)
		return nil
	})
	return list
}
