package main

import (
	"bytes"
	"net"
	"net/url"
	"strings"
	"testing"
)

func TestOrigin(t *testing.T) {
	for _, tt := range []struct {
		reason, bound, url string
		allowHTTP          bool
		want               string // empty: refused
	}{
		{"this machine only", "127.0.0.1:8080", "", false, "http://localhost:8080"},
		{"this machine only, IPv6", "[::1]:8080", "", false, "http://localhost:8080"},
		{"a port of its own choice", "127.0.0.1:41233", "", false, "http://localhost:41233"},
		{"the network, without TLS", "0.0.0.0:8080", "", false, ""},
		{"the network, a plain address given", "0.0.0.0:8080", "http://brae.example", false, ""},
		{"the network, behind a proxy with TLS", "0.0.0.0:8080", "https://brae.example", false, "https://brae.example"},
		{"the network, without TLS, asked for", "0.0.0.0:8080", "http://10.1.2.3:8080", true, "http://10.1.2.3:8080"},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			bound, err := net.ResolveTCPAddr("tcp", tt.bound)
			if err != nil {
				t.Fatal(err)
			}
			l := listener{Listen: tt.bound, AllowHTTP: tt.allowHTTP}
			if tt.url != "" {
				if l.Origin, err = url.Parse(tt.url); err != nil {
					t.Fatal(err)
				}
			}
			got, err := l.origin(bound)
			if tt.want == "" {
				if err == nil || !strings.Contains(err.Error(), "TLS") {
					t.Errorf("origin = %v, %v; want a refusal that names TLS", got, err)
				}
				return
			}
			if err != nil || got.String() != tt.want {
				t.Errorf("origin = %v, %v; want %s", got, err, tt.want)
			}
		})
	}
}

func TestRunRefuses(t *testing.T) {
	for _, tt := range []struct {
		reason string
		args   []string
		status int
		says   string
	}{
		{"an unknown command", []string{"fly"}, 2, "unexpected argument"},
		{"an unknown calculation", []string{"calc", "horoscope"}, 1, "--list"},
		{"a proxy range that is none", []string{"serve", "--trusted-proxies", "everybody", "--database-url", "postgres://127.0.0.1:1/none?connect_timeout=1"}, 1, "brae:"},
		{"a health check of nothing", []string{"health", "http://127.0.0.1:1"}, 1, "refused"},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			var out, errOut bytes.Buffer
			if got := run(t.Context(), tt.args, strings.NewReader(""), &out, &errOut); got != tt.status || !strings.Contains(errOut.String(), tt.says) {
				t.Errorf("status %d, %q; want %d and %q", got, errOut.String(), tt.status, tt.says)
			}
		})
	}
}
